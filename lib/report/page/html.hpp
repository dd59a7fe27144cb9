#pragma once
#include <map>
#include <string>
#include <string_view>

/// The bricks of an HTML page.
namespace fettlefund::report {

/// A text of the build as character data or an attribute's value in double quotes: markup escaped, control
/// characters and what no page may hold replaced, line breaks as blanks.
std::string html_text(std::string_view text);

/// An HTML text in the making.
class Html {
 public:
  /// Markup as it stands, and a line break.
  void line(std::string_view markup) { (all_ += markup) += '\n'; }
  /// <TAG ATTRIBUTES>text</TAG> with the text escaped; attributes begin with a blank or are empty.
  void element(std::string_view tag, std::string_view attributes, std::string_view text);
  /// A list item that can be ticked. `key` names it in the browser's memory (a key that comes again is told
  /// apart by a number); `label` is markup.
  void tick(const std::string& key, const std::string& label);

  std::string take() { return std::move(all_); }

 private:
  std::string all_;
  std::map<std::string, int> keys_;  ///< how often each has come
};

}  // namespace fettlefund::report
