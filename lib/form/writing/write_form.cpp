#include "lib/form/writing/write_form.hpp"

#include "lib/build/json/tree.hpp"
#include "lib/build/read/findings.hpp"
#include "lib/form/writing/lay_out.hpp"
#include "lib/sheets/book/render.hpp"

namespace fettlefund::form {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// Whether the text has comments: a slash outside of its texts.
bool has_comments(std::string_view text) {
  bool inside = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (inside && text[i] == '\\')
      ++i;
    else if (text[i] == '"')
      inside = !inside;
    else if (!inside && text[i] == '/')
      return true;
  }
  return false;
}

}  // namespace

void write_blank_form(const std::string& path, std::string_view trade) {
  Filled empty;
  empty.sheets.resize(all_sheets().size());
  sheets::render(lay_out(empty, "A form to fill in", 2, trade), path);
}

std::vector<std::string> write_form(std::string_view text, const build::Build& build, const std::string& path,
                                    std::string_view trade) {
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  build::Findings findings(build.file, text);
  const build::Node root = build::parse_tree(text, findings);
  Filled filled = fill(root, build.currency);
  sheets::render(lay_out(filled, build.name, build.currency.digits, trade), path);
  if (has_comments(text))
    filled.unheld.insert(filled.unheld.begin(), "its comments: the form has no place for them");
  return filled.unheld;
}

}  // namespace fettlefund::form
