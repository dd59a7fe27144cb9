#pragma once

namespace fettlefund::report {

/// The look of the page: one column that fits 320 pixels and more, dark and light, printed a card a sheet in
/// 9 points or more. Every colour stands beside a word or a line.
const char* page_style();

/// Keeps ticks in the browser, for this build; the page reads and prints without it.
const char* page_script();

}  // namespace fettlefund::report
