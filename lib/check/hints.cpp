#include "lib/check/hints.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "lib/check/goods_day.hpp"
#include "lib/goods/forgotten.hpp"
#include "lib/goods/packs.hpp"
#include "lib/graph/cautions.hpp"
#include "lib/graph/tag.hpp"
#include "lib/text/utf8.hpp"
#include "lib/trade/kinds.hpp"
#include "lib/trade/lookup.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

using build::Diagnostic;
using Words = std::set<std::string>;

constexpr std::size_t suggestions = 3;
constexpr std::size_t found_at_most = 38;  ///< bytes, without the quotes

/// The trade that most jobs speak of, by their kinds or names: at least two, and more than of any other. Else
/// none.
std::string_view likely_trade(const build::Build& build) {
  std::map<std::string_view, int> votes;
  for (const build::Job& job : build.jobs) {
    const trade::Kind* kind = trade::find_kind(job.kind);
    const std::vector<const trade::Kind*> kinds =
        kind != nullptr ? std::vector{kind} : trade::suggest_kinds({job.name}, suggestions);
    for (const std::string& name : trade::trades()) {
      votes[name] += std::any_of(kinds.begin(), kinds.end(), [&](const trade::Kind* one) {
        return one->trade != "common" && trade::known_to(*one, name);
      });
    }
  }
  std::string_view likely;
  int most = 1;
  for (const auto& [name, count] : votes) {
    if (count >= most) likely = count > most ? name : std::string_view();
    most = std::max(most, count);
  }
  return likely;
}

class Hints {
 public:
  explicit Hints(const build::Build& build) : build_(build) {
    for (const build::Rule* rule : goods::rules_in_force(build))
      reminding_.insert(graph::normal_tag(rule->tag));
    known_ = reminding_;
    for (const graph::TagCaution& entry : graph::caution_table())
      known_.insert(entry.tags.begin(), entry.tags.end());
    for (const build::Article& article : build.articles) names_[article.id] = article.name;
    trade_ = likely_trade(build);
  }

  std::vector<Diagnostic> run() {
    if (const auto goods_day = goods_day_hint(build_)) told_.push_back(*goods_day);
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) job(build_.jobs[j], static_cast<int>(j));
    for (std::size_t r = 0; r < build_.removals.size(); ++r) {
      const build::Removal& removal = build_.removals[r];
      tags("/removals/" + removal.id, removal.place, removal.tags);
      questions("/removals/" + removal.id, removal.place,
                goods::forgotten_of_removal(build_, static_cast<int>(r)));
    }
    std::stable_sort(told_.begin(), told_.end(), [](const Diagnostic& a, const Diagnostic& b) {
      return std::tie(a.place.line, a.place.column) < std::tie(b.place.line, b.place.column);
    });
    return std::move(told_);
  }

 private:
  void tell(const build::Place& place, std::string pointer, std::string found, std::string expected,
            std::string nearest = {}) {
    told_.push_back({build::Severity::hint, build_.file, place, std::move(pointer), std::move(found),
                     std::move(expected), std::move(nearest)});
  }

  void job(const build::Job& job, int index) {
    const std::string pointer = "/jobs/" + job.id;
    if (job.kind.empty() && job.tags.empty()) unkind(job, pointer);
    tags(pointer, job.place, job.tags);
    if (job.kind.empty()) caution_only(job, pointer);
    questions(pointer, job.place, goods::forgotten_of_job(build_, index));
    if (const trade::Kind* kind = trade::find_kind(job.kind)) hours(job, *kind, pointer);
  }

  /// Neither kind nor tag: nothing that is easily forgotten would be told.
  void unkind(const build::Job& job, const std::string& pointer) {
    std::vector<std::string> texts = {job.name};
    std::string more;
    for (const build::Use& use : job.uses) more += names_[use.article] + ", ";
    texts.push_back(more);
    more.clear();
    for (const build::Step& step : job.steps) more += step.text + ", ";
    texts.push_back(more);
    const auto kinds = trade::suggest_kinds(texts, suggestions, trade_);
    tell(job.place, pointer, "neither kind nor tag",
         kinds.empty() ? "a \"kind\" that `fettlefund work` lists, or tags: without them no reminder speaks"
                       : "a \"kind\", perhaps " + trade::names_of(kinds, suggestions) +
                             ": without it no reminder speaks");
  }

  void tags(const std::string& pointer, const build::Place& place, const std::vector<std::string>& tags) {
    for (std::size_t i = 0; i < tags.size(); ++i) {
      if (known_.contains(graph::normal_tag(tags[i]))) continue;
      const trade::Found found = trade::find_kinds(tags[i]);
      std::string expected = "a tag that a rule or caution goes by; this one calls for nothing";
      if (!found.kinds.empty())
        expected += fmt::format("; as a job's \"kind\": {}", trade::names_of(found.kinds, suggestions));
      tell(place, fmt::format("{}/tags/{}", pointer, i),
           fmt::format("\"{}\"", text::shortened(tags[i], found_at_most)), std::move(expected));
    }
  }

  /// Tags that call for a caution where no tag of the job calls for a reminder, and kinds go by them.
  void caution_only(const build::Job& job, const std::string& pointer) {
    const auto reminds = [&](const std::string& tag) { return reminding_.contains(graph::normal_tag(tag)); };
    if (std::any_of(job.tags.begin(), job.tags.end(), reminds)) return;
    for (std::size_t i = 0; i < job.tags.size(); ++i) {
      const trade::Found found = trade::find_kinds(job.tags[i]);
      if (!known_.contains(graph::normal_tag(job.tags[i])) || found.kinds.empty() || !found.nearest.empty())
        continue;
      tell(job.place, fmt::format("{}/tags/{}", pointer, i),
           fmt::format("\"{}\"", text::shortened(job.tags[i], found_at_most)),
           fmt::format("a \"kind\" besides, perhaps {}: this tag calls for a caution, for no reminder",
                       trade::names_of(found.kinds, suggestions)));
    }
  }

  void questions(const std::string& pointer, const build::Place& place,
                 const std::vector<goods::ForgottenNeed>& needs) {
    for (const goods::ForgottenNeed& need : needs) {
      if (need.candidates.empty()) continue;
      std::string ids;
      for (const int a : need.candidates)
        ids += (ids.empty() ? "" : ", ") + build_.articles[static_cast<std::size_t>(a)].id;
      tell(place, pointer, fmt::format("several articles for \"{}\": {}", need.reminder.article, ids),
           "one of them under \"uses\" or \"one_use\", or with this id in its \"for\"; until then none is "
           "bought");
    }
  }

  void hours(const build::Job& job, const trade::Kind& kind, const std::string& pointer) {
    if (job.minutes >= kind.hours.low && job.minutes <= kind.hours.high) return;
    tell(job.place, pointer + "/hours", goods::write_quantity(job.minutes * 1000 / 60),
         fmt::format("{} to {} hours, as \"{}\" usually takes without what comes off, or a good reason",
                     goods::write_quantity(kind.hours.low * 1000 / 60),
                     goods::write_quantity(kind.hours.high * 1000 / 60), kind.name));
  }

  const build::Build& build_;
  Words known_, reminding_;
  std::map<build::Id, std::string> names_;
  std::string_view trade_;  ///< that suggestions come from; empty: any
  std::vector<Diagnostic> told_;
};

}  // namespace

std::vector<Diagnostic> hints(const build::Build& build) { return Hints(build).run(); }

}  // namespace fettlefund::planning
