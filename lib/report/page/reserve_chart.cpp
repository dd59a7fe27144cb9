#include "lib/report/page/reserve_chart.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/report/page/html.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::StageView;

// In units of the drawing: 340 wide, so that on a narrow telephone one is about one pixel.
constexpr std::int64_t left = 8, right = 332, top = 26, bottom = 150, tenths = 10;

class Chart {
 public:
  explicit Chart(const planning::Outcome& outcome) : outcome_(outcome) {
    for (const StageView& stage : outcome.stages) {
      for (const budgets::Money amount : {stage.cash_after, stage.floor}) {
        highest_ = std::max(highest_, amount.minor());
        lowest_ = std::min(lowest_, amount.minor());
      }
    }
    if (highest_ == lowest_) highest_ = lowest_ + 1;
  }

  std::string draw() {
    begin();
    bars();
    floor_line();
    put(fmt::format("<line x1=\"{}\" x2=\"{}\" y1=\"{}\" y2=\"{}\" stroke=\"currentColor\"/>", left, right,
                    y(0), y(0)));
    labels();
    put("</svg>");
    return std::move(all_);
  }

 private:
  void put(const std::string& markup) { (all_ += markup) += '\n'; }

  std::string money(std::int64_t minor) const {
    return html_text(budgets::write_money(budgets::Money::of_minor(minor), outcome_.build->currency));
  }

  static std::string decimal(std::int64_t in_tenths) {
    return fmt::format("{}.{}", in_tenths / tenths, in_tenths % tenths);
  }

  /// Amounts stay below 10^14 minor units and the drawing below 10^4 tenths: the product fits.
  std::string y(std::int64_t minor) const {
    const std::int64_t height = (bottom - top) * tenths;
    const std::int64_t span = highest_ - lowest_;
    const std::int64_t part = (minor - lowest_) * height / span;
    return decimal(bottom * tenths - part);
  }

  std::int64_t slot_start(std::size_t stage) const {
    return left * tenths + static_cast<std::int64_t>(stage) * (right - left) * tenths /
                               static_cast<std::int64_t>(outcome_.stages.size());
  }

  void begin() {
    const StageView& first = outcome_.stages.front();
    const StageView& last = outcome_.stages.back();
    put("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 340 180\" role=\"img\" "
        "aria-labelledby=\"reserve-title reserve-about\" font-size=\"10.5\" fill=\"currentColor\">");
    put("<title id=\"reserve-title\">What is left after each payday</title>");
    const auto least = std::min_element(
        outcome_.stages.begin(), outcome_.stages.end(),
        [](const StageView& a, const StageView& b) { return a.cash_after.minor() < b.cash_after.minor(); });
    put(fmt::format(
        "<desc id=\"reserve-about\">Stages {} to {}, from {} to {}. Left at the end: {}. Least: {} "
        "in stage {}. The table below has every figure.</desc>",
        first.number, last.number, budgets::write_date(first.payday), budgets::write_date(last.payday),
        money(last.cash_after.minor()), money(least->cash_after.minor()), least->number));
    put(fmt::format("<text x=\"{}\" y=\"12\">Left after the payday (bars); must stay (dashed line)</text>",
                    left));
  }

  void bars() {
    for (std::size_t i = 0; i < outcome_.stages.size(); ++i) {
      const std::int64_t amount = outcome_.stages[i].cash_after.minor();
      const std::string high = y(std::max<std::int64_t>(amount, 0)),
                        low = y(std::min<std::int64_t>(amount, 0));
      const std::int64_t start = slot_start(i), width = slot_start(i + 1) - start;
      put(fmt::format("<path d=\"M{0} {2}H{1}V{3}H{0}Z\" style=\"fill:var(--bar)\"/>",
                      decimal(start + width / 8), decimal(start + width - width / 8), high, low));
    }
  }

  void floor_line() {
    std::string path;
    for (std::size_t i = 0; i < outcome_.stages.size(); ++i) {
      path += fmt::format("{}{} {}H{}", i == 0 ? "M" : "L", decimal(slot_start(i)),
                          y(outcome_.stages[i].floor.minor()), decimal(slot_start(i + 1)));
    }
    put(
        fmt::format("<path d=\"{}\" fill=\"none\" stroke-width=\"2\" stroke-dasharray=\"5 3\" "
                    "style=\"stroke:var(--floor)\"/>",
                    path));
  }

  void labels() {
    put(fmt::format("<text x=\"{}\" y=\"23\">{}</text>", left, money(highest_)));
    const std::size_t step = 1 + (outcome_.stages.size() - 1) / 12;
    for (std::size_t i = 0; i < outcome_.stages.size(); i += step) {
      put(fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
                      decimal((slot_start(i) + slot_start(i + 1)) / 2), bottom + 13,
                      outcome_.stages[i].number));
    }
    put(fmt::format("<text x=\"{}\" y=\"{}\">Stage</text>", left, bottom + 25));
  }

  const planning::Outcome& outcome_;
  std::int64_t highest_ = 0, lowest_ = 0;
  std::string all_;
};

}  // namespace

std::string reserve_chart(const planning::Outcome& outcome) { return Chart(outcome).draw(); }

}  // namespace fettlefund::report
