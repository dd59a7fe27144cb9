#pragma once
#include <string>
#include <string_view>

#include "lib/outcome/outcome.hpp"
#include "lib/report/text/text.hpp"

namespace fettlefund::report {

/// A text page in the making. Texts from the build pass through `printable` before they come here.
class Page {
 public:
  /// Begins with the line that tells as of which day everything is, where there is one.
  Page(const planning::Outcome* outcome, const TextOptions& options) : outcome_(outcome), options_(options) {
    if (!options_.as_of.empty()) item("", options_.as_of, 0);
  }

  const TextOptions& options() const { return options_; }
  void blank() { all_ += '\n'; }
  void line(std::string_view text) { (all_ += text) += '\n'; }

  /// The first line of a page, bold; long text is wrapped.
  void title(std::string_view text);
  /// A heading in its own line, with a blank line before it.
  void heading(const std::string& text);
  /// A small heading inside a stage.
  void label(const std::string& text);
  /// `first` and then wrapped text, hanging at `indent`.
  void item(const std::string& first, std::string_view text, int indent);
  /// Text from `indent` on, and an amount flush right in the last columns; long text is wrapped before it.
  void amount(int indent, std::string_view text, budgets::Money amount);

  std::string bold(const std::string& text) const { return painted("1", text); }
  std::string warn(const std::string& text) const { return painted("1;31", text); }
  std::string money(budgets::Money amount) const;

  std::string take() { return std::move(all_); }

 private:
  std::string painted(const char* code, const std::string& text) const;

  const planning::Outcome* outcome_;
  TextOptions options_;
  std::string all_;
};

/// The parts of a plan's page, in order.
void add_overview(Page& page, const planning::Outcome& outcome);
void add_so_far(Page& page, const planning::Outcome& outcome);
void add_stage(Page& page, const planning::Outcome& outcome, const planning::StageView& stage);
void add_rest(Page& page, const planning::Outcome& outcome);

}  // namespace fettlefund::report
