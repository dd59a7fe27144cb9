#include "lib/fitment/chain_sizes.hpp"

#include <algorithm>
#include <array>

#include "lib/fitment/units.hpp"
#include "lib/text/ascii.hpp"

namespace fettlefund::fitment {
namespace {

struct TabledWidth {
  std::string_view number;
  InnerWidth width;
};

// Widths as published for the sizes in the scope of ISO 10190; a range where publications differ.
constexpr std::array tabled_widths{TabledWidth{"415", {4.88, 4.88}}, TabledWidth{"420", {6.35, 6.35}},
                                   TabledWidth{"428", {7.75, 7.94}}, TabledWidth{"520", {6.35, 6.35}},
                                   TabledWidth{"525", {7.85, 7.95}}, TabledWidth{"530", {9.53, 9.53}},
                                   TabledWidth{"532", {9.53, 9.53}}, TabledWidth{"630", {9.53, 9.53}}};

constexpr std::array<std::string_view, 4> industrial_numbers{"35", "40", "50", "60"};
constexpr std::array<std::string_view, 4> strengths{"", "H", "M", "MH"};

template <class Table>
bool contains(const Table& table, std::string_view text) {
  return std::find(table.begin(), table.end(), text) != table.end();
}

bool is_known_number(std::string_view number) {
  if (number.size() == 3) return number[0] >= '4' && number[0] <= '6';
  return contains(industrial_numbers, number);
}

std::optional<InnerWidth> width_of(std::string_view number) {
  const auto* found = std::find_if(tabled_widths.begin(), tabled_widths.end(),
                                   [&](const TabledWidth& row) { return row.number == number; });
  if (found == tabled_widths.end()) return std::nullopt;
  return found->width;
}

ChainSizeReading no_size(std::string why) { return {std::nullopt, std::move(why)}; }

}  // namespace

ChainSizeReading read_chain_size(std::string_view text) {
  text = trimmed(text);
  const auto digits_end = std::find_if_not(text.begin(), text.end(), text::is_digit);
  const std::string number(text.begin(), digits_end);
  const std::string strength(trimmed(text.substr(number.size())));
  if (!is_known_number(number)) {
    return no_size(
        "a chain size is three digits beginning with 4, 5 or 6 (such as 520), or 35, 40, 50 or 60");
  }
  if (!contains(strengths, strength)) {
    return no_size("after the chain size only H, M or MH is understood; leave a maker's own letters off");
  }
  return {ChainSize{number, strength, (number[0] - '0') * mm_per_inch / 8, width_of(number)}, ""};
}

}  // namespace fettlefund::fitment
