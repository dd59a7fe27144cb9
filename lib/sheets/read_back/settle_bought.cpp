#include "lib/sheets/read_back/settle_bought.hpp"

#include <algorithm>

#include "lib/progress/open_order.hpp"
#include "lib/sheets/read_back/counts.hpp"

namespace fettlefund::sheets {
namespace {

using budgets::Date;
using budgets::Money;
using planning::ShoppingKey;

/// The supplier whose name the sheet has; empty: none, or no longer one of the build.
build::Id supplier_named(const build::Build& build, const std::string& shown) {
  for (const build::Supplier& supplier : build.suppliers) {
    if (!shown.empty() && planning::names_supplier(shown, supplier.name)) return supplier.id;
  }
  return {};
}

/// Of what was bought on another day than planned: so many days later as that offer takes.
std::optional<Date> arrival(const build::Build& build, const ShoppingKey& what, const build::Id& supplier,
                            const SaidBought& said, Date on) {
  const int a = supplier.empty() ? -1 : planning::find_id(build.articles, what.id);
  std::optional<int> days;
  for (std::size_t i = 0; a >= 0 && i < build.articles[static_cast<std::size_t>(a)].offers.size(); ++i) {
    const build::Offer& offer = build.articles[static_cast<std::size_t>(a)].offers[i];
    if (offer.supplier != supplier) continue;
    if (said.planned == offer.price.likely * said.packs) return on + offer.lead_days;
    days = std::max(days.value_or(0), offer.lead_days);
  }
  return days ? std::optional(on + *days) : said.arrives;
}

}  // namespace

BoughtSettler::BoughtSettler(Settling& at) : at_(at) {
  const std::vector<bool> counts = log::effective(at.log);
  for (std::size_t i = 0; i < at.log.entries.size(); ++i) {
    const auto* paid = std::get_if<log::Paid>(&at.log.entries[i].event);
    if (paid && counts[i] && at.log.entries[i].number > at.back.record.log_entries)
      decided_.insert(paid->key);
  }
}

void BoughtSettler::settle(const SaidBought& said) {
  told_.insert(said.key);
  told_.insert(said.row_key);
  if (!known_to_build(said.key)) return;
  Known known = known_of(said.key);
  if (known.packs == 0 && !said.row_key.empty()) known = known_of(said.row_key);
  if (known.packs == 0) known = same_under_another_key(said);
  const Date on = said.on ? *said.on : known.packs == 0 ? day_of(said) : at_.day;
  if (!at_.day_fits(on)) return;
  if (known.packs == 0) return add_bought(said, on);
  compare_paid(said, known);
  if (said.packs != known.packs)
    at_.tell(false, fmt::format("{} packs here, {} in entry {} of the log; that stays", said.packs,
                                known.packs, known.entry));
  if (said.on && *said.on != known.date)
    at_.tell(false, fmt::format("bought on {} here, on {} in entry {} of the log; that stays",
                                budgets::write_date(*said.on), budgets::write_date(known.date), known.entry));
}

void BoughtSettler::tell_rest() {
  tell_deliveries();
  tell_untold();
}

bool BoughtSettler::known_to_build(const std::string& key) {
  const ShoppingKey what = planning::read_key(key);
  switch (what.kind) {
    case ShoppingKey::Kind::article:
      return at_.look(what.id, "an article", at_.build.articles);
    case ShoppingKey::Kind::hire:
      return at_.look(what.id, "a tool", at_.build.articles);
    case ShoppingKey::Kind::delivery:
      return at_.look(what.id, "a supplier", at_.build.suppliers);
    case ShoppingKey::Kind::fee:
      return at_.look(what.id, "a job", at_.build.jobs);
    case ShoppingKey::Kind::other:
      break;
  }
  return true;
}

BoughtSettler::Known BoughtSettler::known_of(const std::string& key) const {
  Known known;
  known.key = key;
  known.decided = decided_.count(key) != 0;
  for (const planning::Bought& one : at_.history.bought) {
    if (one.key != key) continue;
    if (one.number <= at_.back.record.log_entries) {
      known.before += one.paid;
      continue;
    }
    if (known.packs == 0) known.date = one.date;
    known.packs += one.ordered;
    known.since += one.paid;
    known.entry = one.number;
  }
  return known;
}

/// A purchase is named by what was bought, not by the stage that the plan of the moment bought it for: what
/// was recorded since the workbook was written, from this supplier, under a key that the workbook does not
/// have, is the same purchase told by somebody else.
BoughtSettler::Known BoughtSettler::same_under_another_key(const SaidBought& said) {
  const ShoppingKey what = planning::read_key(said.key);
  const build::Id from = supplier_named(at_.build, said.supplier);
  for (const planning::Bought& one : at_.history.bought) {
    const bool same = one.what.kind == what.kind && one.what.id == what.id && !what.id.empty();
    if (!same || one.number <= at_.back.record.log_entries || at_.back.keys.count(one.key) != 0) continue;
    const build::Id other = planning::supplier_of(at_.build, one);
    if ((!from.empty() && !other.empty() && from != other) || !told_.insert(one.key).second) continue;
    at_.tell(false,
             fmt::format("taken as what entry {} of the log tells ({} on {}); if it was bought once more: "
                         "record BUILD bought {} --again",
                         one.number, one.key, budgets::write_date(one.date), said.key));
    return known_of(one.key);
  }
  return {};
}

/// Of what has no day of its own: the payday of the stage that it names, if that is over.
Date BoughtSettler::day_of(const SaidBought& said) {
  if (!said.stage || *said.stage < 1 || *said.stage > static_cast<std::int64_t>(at_.paydays.size()))
    return at_.day;
  const Date payday = at_.paydays[static_cast<std::size_t>(*said.stage - 1)];
  if (const auto counted = counted_up_to(at_.log, at_.back.record.log_entries);
      counted && payday <= *counted && *counted <= at_.day) {
    at_.tell(
        false,
        fmt::format("cash was counted on {}, before this workbook was written; it is taken as paid on {}, "
                    "not on the payday of stage {}",
                    budgets::write_date(*counted), budgets::write_date(at_.day), *said.stage));
    return at_.day;
  }
  if (payday <= at_.day) return payday;
  at_.tell(false, fmt::format("the payday of stage {} is {}; it is taken as paid on {}", *said.stage,
                              budgets::write_date(payday), budgets::write_date(at_.day)));
  return at_.day;
}

/// A typed amount goes before one that was only planned. Two typed ones that differ are the user's to
/// decide, whoever was first; once decided (`paid`), the decision stays.
void BoughtSettler::compare_paid(const SaidBought& said, const Known& known) {
  if (!said.paid_is_typed || said.paid == known.since || said.paid == said.planned)
    return void(++at_.to.known);
  if (said.planned && known.since == *said.planned)
    return at_.propose(at_.day, log::Paid{known.key, said.paid + known.before});
  const auto amount = [&](Money one) { return budgets::write_money(one, at_.build.currency); };
  if (known.decided)
    return at_.tell(false, fmt::format("{} paid here, {} by the log; that stays", amount(said.paid),
                                       amount(known.since)));
  at_.tell(true,
           fmt::format("{} paid here, {} in entry {} of the log; which is right? record BUILD paid {} AMOUNT "
                       "decides it",
                       amount(said.paid), amount(known.since), known.entry, known.key));
}

void BoughtSettler::add_bought(const SaidBought& said, Date on) {
  log::Bought bought{said.key, said.packs, said.paid, {}, {}};
  const ShoppingKey what = planning::read_key(said.key);
  if (what.kind == ShoppingKey::Kind::article) bought.supplier = supplier_named(at_.build, said.supplier);
  const std::optional<Date> arrives =
      said.arrives_is_typed ? said.arrives : arrival(at_.build, what, bought.supplier, said, on);
  if (arrives && *arrives > on && *arrives <= planning::last_date) bought.arrives = arrives;
  if (said.arrives_is_typed && said.arrives && *said.arrives < on)
    return at_.tell(true, fmt::format("it arrives on {}, before it is bought on {}",
                                      budgets::write_date(*said.arrives), budgets::write_date(on)));
  at_.propose(on, std::move(bought));
}

/// Nothing is typed there, so no cell holds it.
void BoughtSettler::tell_deliveries() {
  for (const SilentDelivery& one : at_.back.deliveries) {
    if (known_of(one.key).packs > 0) continue;
    at_.to.remarkable.push_back(
        {false, one.sheet, "",
         fmt::format("goods from {} are bought, but their delivery, {} {}, is neither ticked nor paid, so it "
                     "is not recorded; if there was none, type 0 under Paid",
                     one.supplier, budgets::write_money(one.amount, at_.build.currency),
                     at_.build.currency.code)});
  }
}

/// What was recorded since the workbook was written and is not told by it: unticked, or told elsewhere.
void BoughtSettler::tell_untold() {
  at_.said = nullptr;
  std::set<std::string> untold;
  for (const planning::Bought& one : at_.history.bought)
    if (one.number > at_.back.record.log_entries && told_.count(one.key) == 0) untold.insert(one.key);
  std::string names;
  for (const std::string& key : untold) names += (names.empty() ? "" : ", ") + key;
  if (!untold.empty())
    at_.tell(false,
             fmt::format("recorded as bought, but neither ticked nor paid here: {}; that stays (undo takes "
                         "an entry back)",
                         names));
}

}  // namespace fettlefund::sheets
