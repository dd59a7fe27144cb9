#include "lib/report/page/html.hpp"

#include "lib/report/picture/text.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {

std::string html_text(std::string_view text) {
  std::string safe;
  for (const char c : svg_text(text::printable(text))) {
    if (c == '\'') {
      safe += "&#39;";
    } else {
      safe += c;
    }
  }
  return safe;
}

void Html::element(std::string_view tag, std::string_view attributes, std::string_view text) {
  line(fmt::format("<{}{}>{}</{}>", tag, attributes, html_text(text), tag));
}

void Html::tick(const std::string& key, const std::string& label) {
  const int times = ++keys_[key];
  const std::string own = times == 1 ? key : fmt::format("{} #{}", key, times);
  line(fmt::format(
      "<li><label class=\"tick\"><input type=\"checkbox\" data-key=\"{}\"><span>{}</span></label></li>",
      html_text(own), label));
}

}  // namespace fettlefund::report
