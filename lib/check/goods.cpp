#include <algorithm>
#include <set>

#include "lib/check/check.hpp"
#include "lib/goods/packs.hpp"
#include "lib/outcome/words.hpp"

namespace fettlefund::planning {
namespace {

std::string pointer_to(const build::Article& article) { return "/articles/" + article.id; }

/// Whether any offer of it arrives for some stage.
bool ever_arrives(const budgets::ProblemData& problem, const std::vector<budgets::Offer>& offers) {
  for (const budgets::Offer& offer : offers) {
    for (std::size_t t = 0; t < problem.stages.size(); ++t) {
      if (budgets::order_stage(problem, offer, static_cast<int>(t)) >= 0) return true;
    }
  }
  return false;
}

class GoodsCheck {
 public:
  GoodsCheck(const build::Build& build, const Staging& staging, Findings& findings)
      : build_(build), staging_(staging), findings_(findings) {}

  void run() {
    for (const int i : in_file_order(staging_.article_of)) article(static_cast<std::size_t>(i));
    for (const int i : in_file_order(staging_.tool_of)) tool(static_cast<std::size_t>(i));
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      torques(build_.jobs[j].place, "/jobs/" + build_.jobs[j].id, staging_.demands.jobs[j]);
    }
    for (std::size_t r = 0; r < build_.removals.size(); ++r) {
      if (build_.removals[r].added) continue;
      torques(build_.removals[r].place, "/removals/" + build_.removals[r].id, staging_.demands.removals[r]);
    }
  }

 private:
  const build::Article& named(int index) const { return build_.articles[static_cast<std::size_t>(index)]; }

  /// The largest amount that one job or removal needs of an article, with who needs it.
  std::pair<budgets::Quantity, std::string> largest_need(int index) const {
    std::pair<budgets::Quantity, std::string> largest{0, ""};
    const auto look = [&](const auto& entries, const std::vector<Demand>& demands) {
      for (std::size_t i = 0; i < demands.size(); ++i) {
        for (const ArticleDemand& line : demands[i].articles) {
          if (line.article == index && line.amount > largest.first) largest = {line.amount, entries[i].id};
        }
      }
    };
    look(build_.jobs, staging_.demands.jobs);
    look(build_.removals, staging_.demands.removals);
    return largest;
  }

  void article(std::size_t i) {
    const build::Article& from = named(staging_.article_of[i]);
    const budgets::Article& to = staging_.problem.articles[i];
    budgets::Quantity stock = 0;
    for (const budgets::Lot& lot : to.on_hand) stock += lot.amount;
    const auto [need, by] = largest_need(staging_.article_of[i]);
    if (to.offers.empty() && stock < need) {
      findings_.error(
          from.place, pointer_to(from),
          stock == 0 ? "no offer and none on hand"
                     : "no offer and only " + goods::write_amount(stock, from.unit) + " on hand",
          "an offer, or " + goods::write_amount(need, from.unit) + " on hand, as '" + by + "' needs");
    } else if (!to.offers.empty() && stock < need && !ever_arrives(staging_.problem, to.offers)) {
      findings_.warning(from.place, pointer_to(from), "no offer that arrives by a bench date of the plan",
                        "a shorter lead time or other order days; '" + by + "' is left out");
    }
  }

  /// Is there work for which no other will do?
  bool is_sure(int tool) const {
    const auto uses = [&](const Demand& demand) {
      return std::find(demand.tools.begin(), demand.tools.end(), tool) != demand.tools.end();
    };
    return std::any_of(staging_.demands.jobs.begin(), staging_.demands.jobs.end(), uses) ||
           std::any_of(staging_.demands.removals.begin(), staging_.demands.removals.end(), uses);
  }

  void tool(std::size_t i) {
    const build::Article& from = named(staging_.tool_of[i]);
    const budgets::Tool& to = staging_.problem.tools[i];
    const bool free = std::any_of(to.free.begin(), to.free.end(), [](char is_free) { return is_free != 0; });
    if (free || to.hire || !is_sure(staging_.tool_of[i])) return;
    if (to.offers.empty()) {
      findings_.error(
          from.place, pointer_to(from), "a tool that cannot be had",
          "an offer, a hire price, a borrow range with a bench date in it, or an entry in on_hand");
    } else if (!ever_arrives(staging_.problem, to.offers)) {
      findings_.warning(from.place, pointer_to(from), "no offer that arrives by a bench date of the plan",
                        "a shorter lead time, other order days, or a hire price");
    }
  }

  void torques(const build::Place& place, const std::string& pointer, const Demand& demand) {
    for (const build::Torque& torque : demand.uncovered) {
      findings_.warning(place, pointer + "/torques", torque.value + " on " + torque.on,
                        "a torque wrench in the build whose range covers it");
    }
  }

  const build::Build& build_;
  const Staging& staging_;
  Findings& findings_;
};

}  // namespace

void check_goods(const build::Build& build, const Staging& staging, Findings& findings) {
  GoodsCheck(build, staging, findings).run();
}

}  // namespace fettlefund::planning
