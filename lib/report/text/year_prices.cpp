#include <algorithm>

#include "lib/report/text/page.hpp"
#include "lib/report/text/year.hpp"
#include "lib/staging/ids.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using budgets::Money;

class PriceLines {
 public:
  explicit PriceLines(const planning::Year& year) : build_(*year.build), year_(year) {}

  std::string make() const {
    if (year_.prices.empty())
      return "Every price paid up to " + budgets::write_date(year_.day) +
             " is the build file's likely one.\n";
    std::string text =
        "// Offers with the prices really paid. Paste each in place of its article's offer of that\n"
        "// supplier; the build file is not changed by this command.\n";
    for (const planning::PricePaid& price : year_.prices) text += of(price);
    return text;
  }

 private:
  std::string amount(Money one) const { return budgets::write_money(one, build_.currency); }

  std::string of(const planning::PricePaid& price) const {
    return fmt::format("// {}: {} on {}, likely {}\n{}\n", price.article, amount(price.paid),
                       budgets::write_date(price.date), amount(price.likely), offer_line(price));
  }

  std::string offer_line(const planning::PricePaid& price) const {
    const build::Offer& offer = *price.offer;
    std::string line = fmt::format("{{\"supplier\": \"{}\", \"price\": {}", offer.supplier,
                                   price_of(offer.price, price.paid));
    line += lead_of(offer);
    if (offer.from) line += fmt::format(", \"from\": \"{}\"", budgets::write_date(*offer.from));
    if (offer.until) line += fmt::format(", \"until\": \"{}\"", budgets::write_date(*offer.until));
    return line + "}";
  }

  std::string price_of(const build::Price& before, Money paid) const {
    if (before.low == before.high) return fmt::format("\"{}\"", amount(paid));
    return fmt::format("{{\"low\": \"{}\", \"likely\": \"{}\", \"high\": \"{}\"}}",
                       amount(std::min(before.low, paid)), amount(paid), amount(std::max(before.high, paid)));
  }

  /// Nothing where it is the supplier's own.
  std::string lead_of(const build::Offer& offer) const {
    const int s = planning::find_id(build_.suppliers, offer.supplier);
    if (offer.lead_spread)
      return fmt::format(", \"lead_days\": {{\"low\": {}, \"likely\": {}, \"high\": {}}}",
                         offer.lead_spread->low, offer.lead_days, offer.lead_spread->high);
    const bool own = s < 0 || build_.suppliers[static_cast<std::size_t>(s)].lead_days != offer.lead_days;
    return own ? fmt::format(", \"lead_days\": {}", offer.lead_days) : "";
  }

  const build::Build& build_;
  const planning::Year& year_;
};

}  // namespace

std::string prices_text(const planning::Year& year) { return PriceLines(year).make(); }

}  // namespace fettlefund::report
