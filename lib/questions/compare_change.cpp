#include <algorithm>

#include "lib/questions/compare.hpp"
#include "lib/staging/ids.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

constexpr std::int64_t most_minutes = 100'000;

/// "key:name=value", any part may be empty.
struct Words {
  std::string key, name, value;
  bool has_value = false;
};

Words split(const std::string& text) {
  Words words;
  const std::size_t equals = text.find('=');
  words.has_value = equals != std::string::npos;
  const std::string left = text.substr(0, equals);
  if (words.has_value) words.value = text.substr(equals + 1);
  const std::size_t colon = left.find(':');
  words.key = left.substr(0, colon);
  if (colon != std::string::npos) words.name = left.substr(colon + 1);
  return words;
}

class Changer {
 public:
  Changer(build::Build& build, const std::string& text) : build_(build), text_(text), words_(split(text)) {}

  std::string apply() {
    static const std::vector<std::pair<std::string, std::string (Changer::*)()>> known{
        {"amount", &Changer::amount},       {"opening", &Changer::opening},
        {"keep-back", &Changer::keep_back}, {"allowance", &Changer::allowance},
        {"hours", &Changer::hours},         {"extra", &Changer::extra},
        {"want", &Changer::want},           {"drop", &Changer::drop},
        {"must", &Changer::must},           {"by", &Changer::by},
        {"price", &Changer::price}};
    std::vector<std::string> names;
    for (const auto& [name, change] : known) {
      if (name == words_.key) return (this->*change)();
      names.push_back(name);
    }
    const std::string nearest = text::nearest_name(words_.key, text::Names(names));
    return wrong("no such change") + (nearest.empty()
                                          ? "; known are amount, opening, keep-back, allowance, hours, "
                                            "extra, want, drop, must, by and price"
                                          : fmt::format("; did you mean '{}'?", nearest));
  }

 private:
  std::string wrong(const std::string& what) const { return fmt::format("'{}': {}", text_, what); }

  std::optional<Money> money(const std::string& text) const {
    return budgets::read_money(text, build_.currency).amount;
  }

  /// Sets an amount that is not negative.
  std::string set(Money& to) const {
    const auto value = money(words_.value);
    if (!value || *value < Money())
      return wrong("expected an amount of 0 or more in " + std::string(build_.currency.code));
    to = *value;
    return {};
  }

  std::string amount() { return set(build_.money.amount); }
  std::string keep_back() { return set(build_.money.keep_back); }
  std::string opening() {
    const auto value = money(words_.value);
    if (!value) return wrong("expected an amount in " + std::string(build_.currency.code));
    build_.money.opening = *value;
    return {};
  }

  /// A decimal with at most two places, in hundredths.
  std::optional<std::int64_t> hundredths() const {
    const auto read = budgets::read_money(words_.value, {"", 2}).amount;
    if (!read || read->minor() < 0) return std::nullopt;
    return read->minor();
  }

  std::string allowance() {
    const auto percent = hundredths();
    if (!percent || *percent > 10'000) return wrong("expected 0 to 100 percent with at most two decimals");
    build_.money.allowance_bp = *percent;
    return {};
  }

  std::string hours() {
    if (!build_.bench.sessions.empty()) return wrong("the build has sessions, which are its hours");
    const auto value = hundredths();
    if (!value || *value > most_minutes || *value * 60 % 100 != 0) {
      return wrong("expected hours in whole minutes, as 7.5");
    }
    build_.bench.minutes = *value * 60 / 100;
    return {};
  }

  std::string extra() {
    const auto date = budgets::read_date(words_.name);
    const auto value = money(words_.value);
    if (!date || !value) return wrong("expected extra:yyyy-mm-dd=AMOUNT");
    auto& extras = build_.money.extras;
    const auto after =
        std::find_if(extras.begin(), extras.end(), [&](const auto& one) { return one.date > *date; });
    extras.insert(after, {*date, *value, "what if"});
    return {};
  }

  /// Runs `use` on the job named, if there is one.
  template <class Use>
  std::string with_job(const Use& use) {
    const int job = find_id(build_.jobs, words_.name);
    if (job >= 0) return use(build_.jobs[static_cast<std::size_t>(job)]);
    std::vector<std::string> ids;
    for (const build::Job& one : build_.jobs) ids.push_back(one.id);
    return wrong("no such job to plan") + meant(ids);
  }

  std::string meant(const std::vector<std::string>& ids) const {
    const std::string nearest = text::nearest_name(words_.name, text::Names(ids));
    return nearest.empty() ? "" : fmt::format("; did you mean '{}'?", nearest);
  }

  std::string want() {
    return with_job([&](build::Job& job) {
      const auto value = hundredths();
      if (!value || *value > 1000 || *value % 100 != 0) return wrong("expected a want of 0 to 10");
      job.want = static_cast<int>(*value / 100);
      return std::string();
    });
  }

  /// A job that may only be done when all is over is done never.
  std::string drop() {
    return with_job([&](build::Job& job) {
      if (words_.has_value) return wrong("expected drop:JOB");
      job.must = false;
      job.by.reset();
      job.not_before = calendar_of(build_.money).end;
      return std::string();
    });
  }

  std::string must() {
    return with_job([&](build::Job& job) {
      if (words_.has_value) return wrong("expected must:JOB");
      job.must = true;
      return std::string();
    });
  }

  std::string by() {
    return with_job([&](build::Job& job) {
      const auto date = budgets::read_date(words_.value);
      if (!date) return wrong("expected by:JOB=yyyy-mm-dd");
      job.must = true;
      job.by = date;
      return std::string();
    });
  }

  std::string price() {
    const int article = find_id(build_.articles, words_.name);
    if (article < 0) {
      std::vector<std::string> ids;
      for (const build::Article& one : build_.articles) ids.push_back(one.id);
      return wrong("no such article") + meant(ids);
    }
    const bool relative = words_.value.starts_with("+") || words_.value.starts_with("-");
    const auto value = money(words_.value);
    if (!value) return wrong("expected a price, or + or - and by how much");
    auto offers = build_.articles[static_cast<std::size_t>(article)].offers;
    if (offers.empty()) return wrong("nobody offers it");
    for (build::Offer& offer : offers) {
      for (Money* one : {&offer.price.low, &offer.price.likely, &offer.price.high}) {
        *one = relative ? *one + *value : *value;
        if (*one < Money()) return wrong("the price would be less than nothing");
      }
    }
    build_.articles[static_cast<std::size_t>(article)].offers = std::move(offers);
    return {};
  }

  build::Build& build_;
  const std::string& text_;
  Words words_;
};

}  // namespace

std::string change(build::Build& build, const std::string& text) { return Changer(build, text).apply(); }

}  // namespace fettlefund::planning
