#include <cstdlib>

#include "lib/fitment/units.hpp"
#include "lib/report/text/drive.hpp"

#include <nlohmann/json.hpp>

namespace fettlefund::report {
namespace {

using Json = nlohmann::ordered_json;
using planning::DriveReport;

/// The value at the precision that people are shown.
Json rounded(const std::optional<double>& value, int digits) {
  if (!value) return {};
  const double near = std::stod(fitment::write_number(*value, digits));
  return digits == 0 ? Json(static_cast<std::int64_t>(near)) : Json(near);
}

Json told(const planning::DriveFigure& figure) {
  return {{"id", figure.id},
          {"what", figure.what},
          {"unit", figure.unit},
          {"before", rounded(figure.before, figure.digits)},
          {"after", rounded(figure.after, figure.digits)},
          {"change_percent", rounded(figure.change_percent(), 1)}};
}

Json told(const planning::DriveGroup& group) {
  Json figures = Json::array();
  for (const auto& figure : group.figures) figures.push_back(told(figure));
  return {{"title", group.title}, {"figures", std::move(figures)}};
}

Json told(const fitment::ToothPair& pair, bool present_fits) {
  return {{"front", pair.sprockets.driving},
          {"rear", pair.sprockets.driven},
          {"ratio", rounded(pair.ratio, 3)},
          {"links", pair.links},
          {"axle", axle_text(pair)},
          {"present_chain", present_fits ? Json(present_chain_text(pair)) : Json()},
          {"keeps_chain", pair.keeps_chain}};
}

template <class List>
Json all(const List& list) {
  Json array = Json::array();
  for (const auto& entry : list) array.push_back(told(entry));
  return array;
}

Json wanted(const DriveReport& drive) {
  if (!drive.searched) return {};
  Json pairs = Json::array();
  for (const fitment::ToothPair& pair : drive.pairs) pairs.push_back(told(pair, drive.present_fits));
  return {{"front", {drive.front.from, drive.front.to}},
          {"rear", {drive.rear.from, drive.rear.to}},
          {"pairs", std::move(pairs)}};
}

}  // namespace

std::string drive_json(const build::Build& build, const planning::DriveReport& drive) {
  const Json json = {{"report", 1},
                     {"status", "ok"},
                     {"exit_code", 0},
                     {"build", build.name},
                     {"chain", drive.chain},
                     {"links", drive.needed ? Json(drive.needed->links) : Json()},
                     {"feel", drive.feel},
                     {"groups", all(drive.groups)},
                     {"remarks", drive.remarks},
                     {"wanted", wanted(drive)},
                     {"warnings", drive.warnings},
                     {"notes", drive.notes}};
  return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fettlefund::report
