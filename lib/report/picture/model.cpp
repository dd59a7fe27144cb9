#include "lib/report/picture/model.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/staging/ids.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::Outcome;
using planning::StageView;

class Maker {
 public:
  explicit Maker(const Outcome& outcome)
      : outcome_(outcome), build_(*outcome.build), jobs_(build_.jobs), removals_(build_.removals) {}

  PictureModel make() {
    model_.title = text::printable(build_.name);
    const bool proven = outcome_.proof == planning::Proof::proven;
    model_.subtitle = fmt::format("{} stages, {} want-months{}; spent {}, left {}", outcome_.stages.size(),
                                  planning::want_months_text(outcome_.value_want_days),
                                  proven ? ", proven best" : "", planning::money_text(build_, outcome_.spent),
                                  planning::money_text(build_, outcome_.left));
    find_taken_off();
    add_fitted();
    for (const StageView& stage : outcome_.stages) add(stage);
    add_left_out();
    add_arrows();
    thin_out_arrows();
    add_clashes();
    return std::move(model_);
  }

 private:
  const build::Job& job(int j) const { return build_.jobs[static_cast<std::size_t>(j)]; }
  Box& box_of(const build::Id& id) { return model_.boxes[static_cast<std::size_t>(boxes_.at(id))]; }

  /// Each fitted thing goes with the first planned job that takes it off.
  void find_taken_off() {
    for (const build::Fitted& fitted : build_.fitted) {
      for (const StageView& stage : outcome_.stages) {
        for (const planning::JobView& view : stage.jobs) {
          const auto& by = fitted.replaced_by;
          if (std::find(by.begin(), by.end(), view.id) != by.end()) off_for_.emplace(fitted.id, view.id);
        }
      }
    }
  }

  int add(Band& band, const build::Id& id, Box box) {
    box.band = static_cast<int>(model_.bands.size());
    const int index = static_cast<int>(model_.boxes.size());
    model_.boxes.push_back(std::move(box));
    job_of_.push_back(jobs_.find(id));
    boxes_.emplace(id, index);
    band.boxes.push_back(index);
    return index;
  }

  void add_fitted() {
    Band band;
    band.label = {"Fitted", "and staying on"};
    for (const build::Fitted& fitted : build_.fitted) {
      if (off_for_.count(fitted.id)) continue;
      add(band, fitted.id, {BoxKind::fitted, text::printable(fitted.name), "", {}, {}, {}, 0});
    }
    if (!band.boxes.empty()) model_.bands.push_back(std::move(band));
  }

  std::string about(const build::Job& entry, int want) const {
    std::string text = entry.must ? "must, " : want > 0 ? fmt::format("want {}, ", want) : "";
    text += planning::hours_text(entry.minutes);
    if (!entry.one_of.empty()) text += ", one of: " + text::printable(entry.one_of);
    return text;
  }

  void add(const StageView& stage) {
    Band band;
    band.stage = stage.number - 1;
    band.label = {fmt::format("Stage {}", stage.number), "pay " + budgets::write_date(stage.payday)};
    if (stage.jobs.empty()) {
      band.remarks.push_back("no work" +
                             (stage.bench_note.empty() ? "" : ": " + text::printable(stage.bench_note)));
    } else {
      band.label.push_back((stage.last <= planning::first_day(stage) ? "bench " : "bench from ") +
                           budgets::write_date(planning::first_day(stage)));
      band.label.push_back(fmt::format("{} of {}", planning::hours_text(stage.minutes_used),
                                       planning::hours_text(stage.minutes_limit)));
    }
    for (const planning::JobView& view : stage.jobs) add(band, view);
    add_strips(band, stage);
    for (const std::string& group : stage.groups) band.remarks.push_back(text::printable(group));
    model_.bands.push_back(std::move(band));
  }

  void add(Band& band, const planning::JobView& view) {
    const int j = jobs_.find(view.id);
    Box box{view.must ? BoxKind::must : BoxKind::job, text::printable(view.name), "", {}, {}, {}, 0};
    if (j >= 0) box.about = about(job(j), view.want);
    for (const build::Fitted& fitted : build_.fitted) {
      const auto off = off_for_.find(fitted.id);
      if (off != off_for_.end() && off->second == view.id)
        box.takes_off.push_back(text::printable(fitted.name));
    }
    const int index = add(band, view.id, std::move(box));
    for (const build::Fitted& fitted : build_.fitted) {
      const auto off = off_for_.find(fitted.id);
      if (off != off_for_.end() && off->second == view.id) boxes_.emplace(fitted.id, index);
    }
  }

  /// All removals that have to be off for a job.
  std::set<int> opened_by(const build::Job& entry) const {
    std::set<int> all;
    std::vector<int> todo = removals_.find_all(entry.removals);
    while (!todo.empty()) {
      const int r = todo.back();
      todo.pop_back();
      if (!all.insert(r).second) continue;
      for (const int needed : removals_.find_all(build_.removals[static_cast<std::size_t>(r)].needs)) {
        todo.push_back(needed);
      }
    }
    return all;
  }

  /// Removals with the same users share a strip, in the order in which they come off.
  void add_strips(Band& band, const StageView& stage) {
    std::map<int, std::vector<int>> users;  // removal -> boxes
    for (const int b : band.boxes) {
      const int j = job_of_[static_cast<std::size_t>(b)];
      if (j < 0) continue;
      for (const int r : opened_by(job(j))) users[r].push_back(b);
    }
    std::map<std::vector<int>, std::vector<int>> together;
    for (const planning::RemovalView& view : stage.removals) {
      const auto found = users.find(removals_.find(view.id));
      if (found != users.end()) together[found->second].push_back(found->first);
    }
    for (auto& [boxes, removals] : together) band.strips.push_back({strip_text(std::move(removals)), boxes});
  }

  std::string strip_text(std::vector<int> removals) const {
    std::stable_sort(removals.begin(), removals.end(), [&](int a, int b) { return depth(a) < depth(b); });
    std::vector<std::string> names;
    for (const int r : removals)
      names.push_back(text::printable(build_.removals[static_cast<std::size_t>(r)].name));
    return "off: " + fmt::format("{}", fmt::join(names, ", "));
  }

  /// How many removals in a row must be off before this one.
  std::size_t depth(int removal) const {
    build::Job alone;
    alone.removals = {build_.removals[static_cast<std::size_t>(removal)].id};
    return opened_by(alone).size();
  }

  void add_left_out() {
    Band band;
    band.label = {"Left out", fmt::format("{} of {} jobs", outcome_.left_out.size(), build_.jobs.size())};
    for (const planning::LeftOut& left : outcome_.left_out) {
      Box box{BoxKind::left_out, text::printable(left.name), "", {}, {}, {}, 0};
      if (const int j = jobs_.find(left.job); j >= 0) box.about = about(job(j), job(j).want.value_or(0));
      add(band, left.job, std::move(box));
    }
    if (!band.boxes.empty()) model_.bands.push_back(std::move(band));
  }

  void add_arrows() {
    for (const build::Job& later : build_.jobs) {
      const auto to = boxes_.find(later.id);
      if (to == boxes_.end()) continue;
      for (const build::Id& id : later.after) {
        const auto from = boxes_.find(id);
        if (from != boxes_.end() && staged(from->second) && staged(to->second)) {
          model_.arrows.push_back({from->second, to->second});
        }
      }
    }
  }

  /// Leaves out arrows that others in a row say already.
  void thin_out_arrows() {
    std::map<int, std::set<int>> after;  // box -> boxes that an arrow leads to
    for (const Arrow& arrow : model_.arrows) after[arrow.from].insert(arrow.to);
    const auto reached = [&](int from, int to) {
      std::set<int> seen;
      std::vector<int> todo;
      for (const int next : after[from]) {
        if (next != to) todo.push_back(next);
      }
      while (!todo.empty()) {
        const int at = todo.back();
        todo.pop_back();
        if (at == to) return true;
        if (seen.insert(at).second) todo.insert(todo.end(), after[at].begin(), after[at].end());
      }
      return false;
    };
    std::erase_if(model_.arrows, [&](const Arrow& arrow) { return reached(arrow.from, arrow.to); });
  }

  bool staged(int box) const {
    const Box& one = model_.boxes[static_cast<std::size_t>(box)];
    return model_.bands[static_cast<std::size_t>(one.band)].stage >= 0;
  }

  std::string name_of(const build::Id& id) const {
    const int j = planning::find_id(build_.jobs, id), f = planning::find_id(build_.fitted, id);
    if (j >= 0) return text::printable(job(j).name);
    return f >= 0 ? text::printable(build_.fitted[static_cast<std::size_t>(f)].name) : id;
  }

  void add_clashes() {
    int number = 0;
    for (const build::Clash& clash : build_.clashes) {
      ++number;
      for (const build::Id& side : {clash.a, clash.b}) {
        if (boxes_.count(side)) box_of(side).clashes.push_back(number);
      }
      std::vector<std::string> settled;
      for (const build::Id& id : clash.unless) {
        if (boxes_.count(id)) box_of(id).settles.push_back(number);
        settled.push_back(name_of(id));
      }
      std::string text = fmt::format("{} and {} do not fit together", name_of(clash.a), name_of(clash.b));
      if (!clash.why.empty()) text += ": " + text::printable(clash.why);
      if (!settled.empty()) text += fmt::format("; made to fit by: {}", fmt::join(settled, " or "));
      model_.clashes.push_back(text + ".");
    }
  }

  const Outcome& outcome_;
  const build::Build& build_;
  planning::IdTable jobs_, removals_;
  std::map<build::Id, build::Id> off_for_;  // fitted -> job
  std::map<build::Id, int> boxes_;          // job or fitted -> box
  std::vector<int> job_of_;                 // box -> job, or -1
  PictureModel model_;
};

}  // namespace

PictureModel picture_model(const planning::Outcome& outcome) { return Maker(outcome).make(); }

}  // namespace fettlefund::report
