#include "lib/report/text/drive.hpp"

#include <algorithm>

#include "lib/fitment/ratio.hpp"
#include "lib/fitment/units.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::DriveFigure;
using planning::DriveReport;

constexpr int figure_width = 11, change_width = 9, unit_width = 8;
constexpr std::size_t pairs_shown = 60;

std::string shown(const std::optional<double>& value, int digits) {
  return value ? fitment::write_number(*value, digits) : std::string();
}

void add_row(Page& page, const std::string& what, const std::string& unit, const std::string& before,
             const std::string& after, const std::string& change) {
  const int room = page.options().width - 2 - unit_width - 2 * figure_width - change_width;
  const auto lines = text::wrapped(text::printable(what), room - 1);
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) page.line("  " + lines[i]);
  std::string row = "  " + text::pad_right(lines.back(), room) + text::pad_right(unit, unit_width) +
                    text::pad_left(before, figure_width) + text::pad_left(after, figure_width) +
                    text::pad_left(change, change_width);
  row.erase(row.find_last_not_of(' ') + 1);
  page.line(row);
}

void add_figure(Page& page, const DriveFigure& figure) {
  const auto change = figure.change_percent();
  add_row(page, figure.what, figure.unit, shown(figure.before, figure.digits),
          shown(figure.after, figure.digits), change ? fitment::write_signed(*change, 1) + " %" : "");
}

void add_groups(Page& page, const DriveReport& drive) {
  page.blank();
  add_row(page, "", "unit", "before", "after", "change");
  for (const planning::DriveGroup& group : drive.groups) {
    page.heading(group.title);
    for (const DriveFigure& figure : group.figures) add_figure(page, figure);
    if (group.title == "Ratios") page.item("  So it feels:", drive.feel + ".", 16);
  }
}

void add_pair(Page& page, const fitment::ToothPair& pair, bool present_fits) {
  const std::string first =
      fmt::format("  {:>5} {:>5} {:>7} {:>6}", pair.sprockets.driving, pair.sprockets.driven,
                  fitment::write_number(pair.ratio, 3), pair.links);
  page.item(first, axle_text(pair), 30);
  if (present_fits) page.item("", present_chain_text(pair), 30);
}

void add_pairs(Page& page, const planning::DriveReport& drive) {
  if (!drive.searched) return;
  page.heading("Tooth counts that give the wanted ratio");
  page.item("  ",
            fmt::format("looked through: front {} to {}, rear {} to {} teeth", drive.front.from,
                        drive.front.to, drive.rear.from, drive.rear.to),
            2);
  if (drive.pairs.empty()) return page.line("  None does.");
  page.line("  front  rear   ratio  links  with a new chain of so many links");
  for (std::size_t i = 0; i < std::min(drive.pairs.size(), pairs_shown); ++i) {
    add_pair(page, drive.pairs[i], drive.present_fits);
  }
  if (drive.pairs.size() > pairs_shown) {
    page.line(fmt::format("  and {} more: --json tells them all", drive.pairs.size() - pairs_shown));
  }
}

void add_list(Page& page, const char* heading, const std::vector<std::string>& texts) {
  if (texts.empty()) return;
  page.heading(heading);
  for (const std::string& text : texts) page.item("  -", text::printable(text), 4);
}

}  // namespace

std::string axle_text(const fitment::ToothPair& pair) {
  return pair.axle ? "axle " + fitment::describe(*pair.axle) : "too short to go round";
}

std::string present_chain_text(const fitment::ToothPair& pair) {
  if (pair.keeps_chain) return "the present chain reaches as well";
  return pair.axle_as_it_is ? "the present chain: " + fitment::describe(*pair.axle_as_it_is)
                            : std::string("the present chain does not go round");
}

std::string drive_text(const build::Build& build, const planning::DriveReport& drive,
                       const TextOptions& options) {
  Page page(nullptr, options);
  page.line(page.bold(fmt::format("{}: the drive train, chain size {}", text::printable(build.name),
                                  text::printable(drive.chain))));
  add_groups(page, drive);
  add_list(page, "The chain", drive.remarks);
  add_pairs(page, drive);
  add_list(page, "Warnings", drive.warnings);
  add_list(page, "How the figures are worked out", drive.notes);
  return page.take();
}

}  // namespace fettlefund::report
