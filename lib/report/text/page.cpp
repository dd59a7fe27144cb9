#include "lib/report/text/page.hpp"

#include "lib/text/columns.hpp"

namespace fettlefund::report {
namespace {

constexpr int amount_width = 12;

}  // namespace

std::string Page::painted(const char* code, const std::string& text) const {
  return options_.colour ? std::string("\033[").append(code).append("m").append(text).append("\033[0m")
                         : text;
}

std::string Page::money(budgets::Money amount) const {
  return budgets::write_money(amount, outcome_->build->currency);
}

void Page::title(std::string_view text) {
  for (const std::string& part : text::wrapped(text, options_.width)) line(bold(part));
}

void Page::heading(const std::string& text) {
  blank();
  line(bold(text));
}

void Page::label(const std::string& text) { line("  " + bold(text)); }

void Page::item(const std::string& first, std::string_view text, int indent) {
  all_ += text::paragraph(first, text, indent, options_.width);
}

void Page::amount(int indent, std::string_view text, budgets::Money value) {
  const int room = options_.width - amount_width - indent - 1;
  const auto lines = text::wrapped(text, room);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string left = std::string(static_cast<std::size_t>(indent), ' ') + lines[i];
    const bool last = i + 1 == lines.size();
    line(last ? text::pad_right(left, options_.width - amount_width) +
                    text::pad_left(money(value), amount_width)
              : left);
  }
}

}  // namespace fettlefund::report
