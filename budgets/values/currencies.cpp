#include <algorithm>
#include <array>
#include <vector>

#include "budgets/values/money.hpp"

// The codes of ISO 4217 in use in 2026 that have a minor unit, grouped by its decimal digits.
namespace fettlefund::budgets {
namespace {

struct Group {
  int digits;
  std::string_view codes;  // three letters and a space each, alphabetical
};

constexpr std::array<Group, 4> kGroups{{
    {0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF "},
    {2,
     "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE "
     "CHF "
     "CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD "
     "HNL "
     "HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP "
     "MRU "
     "MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD "
     "SCR "
     "SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS "
     "VED "
     "VES WST XAD XCD XCG YER ZAR ZMW ZWG "},
    {3, "BHD IQD JOD KWD LYD OMR TND "},
    {4, "CLF UYW "},
}};

template <class Visit>
void each_currency(Visit visit) {
  for (const Group& group : kGroups)
    for (std::size_t i = 0; i < group.codes.size(); i += 4)
      visit(Currency{group.codes.substr(i, 3), group.digits});
}

char upper(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }

/// Edit distance in which two neighbours swapped count one, with `b` in upper case.
int edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1, 0));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = static_cast<int>(i);
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int change = upper(a[i - 1]) == b[j - 1] ? 0 : 1;
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + change});
      if (i > 1 && j > 1 && upper(a[i - 1]) == b[j - 2] && upper(a[i - 2]) == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::optional<Currency> find_currency(std::string_view code) {
  std::optional<Currency> found;
  each_currency([&](const Currency& currency) {
    if (currency.code == code) found = currency;
  });
  return found;
}

std::string_view nearest_currency(std::string_view code) {
  code = code.substr(0, 16);  // what follows could not make a three-letter code any nearer
  std::string_view nearest;
  int least = 0;
  each_currency([&](const Currency& currency) {
    const int distance = edit_distance(code, currency.code);
    const bool better = nearest.empty() || distance < least || (distance == least && currency.code < nearest);
    if (!better) return;
    nearest = currency.code;
    least = distance;
  });
  return nearest;
}

}  // namespace fettlefund::budgets
