#include "tests/lib/form/support/described.hpp"

#include <sstream>
#include <variant>

namespace fettlefund::test {
namespace {

class Dump {
 public:
  template <class T>
  void say(const char* what, const T& value) {
    out << where << what << " = " << show(value) << '\n';
  }

  static std::string show(const std::string& text) { return "'" + text + "'"; }
  static std::string show(std::string_view text) { return std::string(text); }
  static std::string show(bool value) { return value ? "yes" : "no"; }
  static std::string show(int value) { return std::to_string(value); }
  static std::string show(std::int64_t value) { return std::to_string(value); }
  static std::string show(double value) {
    std::ostringstream text;
    text.precision(17);
    text << value;
    return text.str();
  }
  static std::string show(budgets::Money value) { return std::to_string(value.minor()); }
  static std::string show(budgets::Date value) { return budgets::write_date(value); }
  static std::string show(const build::LeadSpread& days) {
    return show(days.low) + " " + show(days.likely) + " " + show(days.high);
  }
  static std::string show(const build::Price& price) {
    return show(price.low) + " " + show(price.likely) + " " + show(price.high);
  }
  static std::string show(const build::DateRange& range) {
    return show(range.from) + " " + show(range.until);
  }
  static std::string show(const build::Use& use) { return use.article + " " + show(use.amount); }
  static std::string show(const build::Torque& torque) {
    return show(torque.on) + show(torque.value) + show(torque.source) + show(torque.pattern) +
           show(torque.fasteners);
  }
  static std::string show(const build::Check& check) {
    return show(check.what) + show(check.target) + show(check.limits) + show(check.whole);
  }
  static std::string show(const build::Step& step) {
    return show(step.text) + show(step.id) + show(step.after) + show(step.helper) + show(step.fits) +
           show(step.tightens);
  }
  static std::string show(const build::Offer& offer) {
    return show(offer.supplier) + show(offer.price) + " lead " + show(offer.lead_days) +
           show(offer.lead_spread) + show(offer.from) + show(offer.until);
  }
  static std::string show(const build::OnHand& lot) {
    return show(lot.article) + show(lot.amount) + show(lot.opened);
  }
  static std::string show(const build::Extra& extra) {
    return show(extra.date) + " " + show(extra.amount) + show(extra.what);
  }
  static std::string show(const build::BenchException& one) {
    return show(one.stage) + " " + show(one.minutes) + show(one.why);
  }
  static std::string show(const build::Session& one) {
    return show(one.weekday) + " " + show(one.date) + " " + show(one.minutes);
  }
  template <class A, class B>
  static std::string show(const std::pair<A, B>& both) {
    return show(both.first) + ":" + show(both.second);
  }
  template <class T>
  static std::string show(const std::optional<T>& value) {
    return value ? show(*value) : "none";
  }
  template <class T>
  static std::string show(const std::vector<T>& values) {
    return listed(values);
  }
  static std::string show(const std::set<budgets::Date>& values) { return listed(values); }
  static std::string show(const build::Mates& values) { return listed(values); }
  template <class List>
  static std::string listed(const List& values) {
    std::string text = "[";
    for (const auto& value : values) text += show(value) + ", ";
    return text + "]";
  }

  std::ostringstream out;
  std::string where;
};

void rule(Dump& dump, const budgets::PaydayRule& rule) {
  if (const auto* listed = std::get_if<budgets::ListedDays>(&rule)) dump.say("listed", listed->days);
  if (const auto* weeks = std::get_if<budgets::EveryWeeks>(&rule))
    dump.say("every weeks", std::pair(weeks->first, weeks->weeks));
  if (const auto* month = std::get_if<budgets::DayOfMonth>(&rule))
    dump.say("day of month", std::pair(month->from, month->day));
  if (const auto* last = std::get_if<budgets::LastWorkingDay>(&rule))
    dump.say("last working day", last->from);
}

void head(Dump& dump, const build::Build& build) {
  dump.say("name", build.name);
  dump.say("about", build.about);
  dump.say("currency", build.currency.code);
  dump.say("opening", build.money.opening);
  dump.say("keep back", build.money.keep_back);
  dump.say("amount", build.money.amount);
  rule(dump, build.money.rule);
  dump.say("holidays", build.money.holidays);
  dump.say("stages", build.money.stages);
  dump.say("extras", build.money.extras);
  dump.say("allowance", build.money.allowance_bp);
  dump.say("bench minutes", build.bench.minutes);
  dump.say("exceptions", build.bench.exceptions);
  dump.say("days after payday", build.bench.days_after_payday);
  dump.say("sessions", build.bench.sessions);
  dump.say("no sessions", build.bench.no_sessions);
  dump.say("bother", build.bench.bother);
  dump.say("on hand", build.on_hand);
  dump.say("cautions", build.cautions);
}

void shop(Dump& dump, const build::Build& build) {
  for (const build::Supplier& supplier : build.suppliers) {
    dump.where = "supplier " + supplier.id + ": ";
    dump.say("name", supplier.name);
    dump.say("delivery", supplier.delivery);
    dump.say("free from", supplier.free_from);
    dump.say("lead", std::pair(supplier.lead_days, supplier.lead_spread));
  }
  for (const build::Article& article : build.articles) {
    dump.where = "article " + article.id + ": ";
    dump.say("name", article.name);
    dump.say("kind", static_cast<int>(article.kind));
    dump.say("unit", article.unit);
    dump.say("pack", article.pack);
    dump.say("keeps", article.keeps_days);
    dump.say("offers", article.offers);
    dump.say("mates", article.mates);
    dump.say("serves", article.serves);
    dump.say("hire", article.hire);
    dump.say("borrow", article.borrow);
    dump.say("range", std::pair(article.range_from, article.range_to));
    dump.say("sizes", article.sizes);
  }
}

void removals(Dump& dump, const build::Build& build) {
  for (const build::Removal& removal : build.removals) {
    dump.where = "removal " + removal.id + ": ";
    dump.say("name", removal.name);
    dump.say("minutes", std::pair(removal.minutes_off, removal.minutes_on));
    dump.say("needs", removal.needs);
    dump.say("one use", removal.one_use);
    dump.say("tools", removal.tools);
    dump.say("torques", removal.torques);
    dump.say("checks", removal.checks);
    dump.say("off", removal.off);
    dump.say("on", removal.on);
    dump.say("tags", removal.tags);
    dump.say("helper", removal.helper);
    dump.say("overnight", removal.overnight);
  }
}

void jobs(Dump& dump, const build::Build& build) {
  for (const build::Job& job : build.jobs) {
    dump.where = "job " + job.id + ": ";
    dump.say("name", job.name);
    dump.say("want", job.want);
    dump.say("must", job.must);
    dump.say("by", job.by);
    dump.say("not before", job.not_before);
    dump.say("minutes", job.minutes);
    dump.say("cost", job.cost);
    dump.say("removals", job.removals);
    dump.say("after", job.after);
    dump.say("with", job.together_with);
    dump.say("one of", job.one_of);
    dump.say("uses", job.uses);
    dump.say("tools", job.tools);
    dump.say("torques", job.torques);
    dump.say("checks", job.checks);
    dump.say("steps", job.steps);
    dump.say("tags", job.tags);
    dump.say("mates", job.mates);
    dump.say("replaced by", job.replaced_by);
    dump.say("takes off", job.takes_off);
    dump.say("puts on", job.puts_on);
    dump.say("cautions", job.cautions);
    dump.say("manual", job.manual);
    dump.say("note", job.note);
    dump.say("helper", job.helper);
    dump.say("overnight", job.overnight);
  }
}

void rest(Dump& dump, const build::Build& build) {
  for (const build::Fitted& fitted : build.fitted) {
    dump.where = "fitted " + fitted.id + ": ";
    dump.say("name", fitted.name);
    dump.say("since", fitted.since);
    dump.say("life", fitted.life_months);
    dump.say("mates", fitted.mates);
    dump.say("replaced by", fitted.replaced_by);
    dump.say("reached by", fitted.reached_by);
  }
  dump.where = "clash ";
  for (const build::Clash& clash : build.clashes)
    dump.say(clash.why.c_str(), std::pair(std::pair(clash.a, clash.b), clash.unless));
  for (const build::Rule& rule : build.rules) {
    dump.where = "rule " + rule.id + ": ";
    dump.say(rule.why.c_str(), std::vector{rule.tag, rule.article, rule.name, rule.unit});
    dump.say("amount", rule.amount);
  }
  dump.where = "silence ";
  for (const build::Silence& silence : build.silences)
    dump.say("of", std::vector{silence.rule, silence.only_for, silence.because});
}

void drive_train(Dump& dump, const build::DriveTrain& drive) {
  dump.where = "drive ";
  for (const build::DriveEnd& end : {drive.front, drive.rear})
    dump.say("teeth", std::pair(std::pair(end.teeth_before, end.teeth_after), end.job));
  dump.say("chain", std::vector{drive.chain, drive.chain_article, drive.chain_job, drive.rounding, drive.tyre,
                                drive.speedometer});
  dump.say("links", drive.links_before);
  dump.say("centre", std::vector{drive.centre_mm, drive.centre_min_mm, drive.centre_max_mm});
  dump.say("factors", std::vector{drive.primary, drive.rolling_factor});
  dump.say("gears", drive.gears);
  dump.say("speeds", drive.speeds_kmh);
  dump.say("rpm", drive.engine_rpm);
  dump.say("wanted", drive.wanted_ratio);
  dump.say("front range", drive.front_range);
  dump.say("rear range", drive.rear_range);
}

}  // namespace

std::string described(const build::Build& build) {
  Dump dump;
  head(dump, build);
  shop(dump, build);
  removals(dump, build);
  jobs(dump, build);
  rest(dump, build);
  if (build.drive) drive_train(dump, *build.drive);
  return dump.out.str();
}

}  // namespace fettlefund::test
