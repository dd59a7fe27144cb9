#include <algorithm>
#include <cmath>

#include "lib/drive/drive.hpp"
#include "lib/report/text/drive.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { figure, unit, before, after, change, count };
constexpr std::size_t kMostPairs = 60;

/// Writes groups of figures and sections of sentences one below the other.
class DriveSheet {
 public:
  explicit DriveSheet(Sheet& sheet) : sheet_(sheet) {}

  void add(const planning::DriveGroup& group) {
    put_band(sheet_, row_++, count, group.title);
    for (const planning::DriveFigure& one : group.figures) add(one);
  }

  void add(const std::string& title, const std::vector<std::string>& sentences, Look look = Look::body) {
    if (sentences.empty()) return;
    put_band(sheet_, row_++, count, title);
    for (const std::string& sentence : sentences) sheet_.spread(row_++, figure, count, sentence, look);
  }

 private:
  void add(const planning::DriveFigure& one) {
    sheet_.put(row_, figure, one.what);
    sheet_.put(row_, unit, one.unit);
    put(before, one.before, one.digits);
    put(after, one.after, one.digits);
    put(change, one.change_percent(), 1);
    ++row_;
  }

  void put(int column, const std::optional<double>& value, int digits) {
    if (!value) return sheet_.await(row_, column, Shown::text, Look::body);
    sheet_.put(row_, column, Decimal{std::llround(*value * std::pow(10, digits)), digits}, Look::figure);
  }

  Sheet& sheet_;
  int row_ = kHeaderRow + 1;
};

std::vector<std::string> pairs_of(const planning::DriveReport& drive) {
  std::vector<std::string> lines;
  if (!drive.searched) return lines;
  for (std::size_t i = 0; i < std::min(drive.pairs.size(), kMostPairs); ++i) {
    const fitment::ToothPair& pair = drive.pairs[i];
    std::string line = fmt::format("{} front, {} rear: ratio {:.3f}, {} links, {}", pair.sprockets.driving,
                                   pair.sprockets.driven, pair.ratio, pair.links, report::axle_text(pair));
    if (drive.present_fits) line += "; " + report::present_chain_text(pair);
    lines.push_back(line + ".");
  }
  if (lines.empty()) lines.push_back("No pair of tooth counts gives it.");
  if (drive.pairs.size() > kMostPairs) {
    lines.push_back(fmt::format("And {} more.", drive.pairs.size() - kMostPairs));
  }
  return lines;
}

}  // namespace

void add_drive(Book& book, const Outcome& outcome) {
  if (!outcome.build->drive) return;
  const planning::DriveReport drive = planning::drive_report(*outcome.build);
  Sheet sheet = begin_sheet(kDrive, "Drive train, chain size " + drive.chain,
                            "Before and after the change. It feels " + drive.feel + ".",
                            {{"Figure", 40, 44},
                             {"Unit", 8, 9},
                             {"Before", 11, 12, Heading::figures},
                             {"After", 11, 12, Heading::figures},
                             {"Change, %", 11, 12, Heading::figures}});
  DriveSheet page(sheet);
  page.add("Warnings", drive.warnings, Look::care);
  for (const planning::DriveGroup& group : drive.groups) page.add(group);
  page.add("The chain", drive.remarks);
  page.add("Tooth counts that give the wanted ratio", pairs_of(drive));
  page.add("How the figures are worked out", drive.notes);
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
