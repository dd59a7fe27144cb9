#include "lib/goods/packs.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include <fmt/format.h>

namespace fettlefund::goods {

namespace {

/// A unit as a count of the smallest unit of its kind.
struct Scale {
  std::string_view unit;
  std::string_view kind;
  std::int64_t smallest = 1;
};

constexpr std::array<Scale, 10> scales{{{"cl", "volume", 10},
                                        {"cm", "length", 10},
                                        {"g", "mass", 1},
                                        {"kg", "mass", 1000},
                                        {"l", "volume", 1000},
                                        {"m", "length", 1000},
                                        {"ml", "volume", 1},
                                        {"mm", "length", 1},
                                        {"pair", "count", 2},
                                        {"piece", "count", 1}}};

constexpr std::array<std::string_view, 12> counted{"bag",  "bottle", "can",   "link",  "pair", "piece",
                                                   "roll", "set",    "sheet", "strip", "tin",  "tube"};

const Scale* scale_of(std::string_view unit) {
  const auto found =
      std::find_if(scales.begin(), scales.end(), [&](const Scale& scale) { return scale.unit == unit; });
  return found == scales.end() ? nullptr : &*found;
}

}  // namespace

Packs packs_for(Quantity amount, Quantity pack) {
  if (amount < 0 || pack <= 0) throw std::invalid_argument("packs need an amount >= 0 and a pack > 0");
  const std::int64_t count = amount / pack + (amount % pack != 0 ? 1 : 0);
  return {count, amount % pack == 0 ? 0 : pack - amount % pack};
}

std::optional<Quantity> in_unit(Quantity amount, std::string_view from, std::string_view to) {
  if (from == to) return amount;
  const Scale *source = scale_of(from), *target = scale_of(to);
  if (source == nullptr || target == nullptr || source->kind != target->kind) return std::nullopt;
  Quantity smallest = 0;
  if (__builtin_mul_overflow(amount, source->smallest, &smallest)) return std::nullopt;
  return packs_for(smallest, target->smallest).count;
}

std::string write_quantity(Quantity amount) {
  std::string text = fmt::format("{}.{:03}", amount / 1000, amount % 1000);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string write_amount(Quantity amount, std::string_view unit) {
  const bool plural = amount != 1000 && std::find(counted.begin(), counted.end(), unit) != counted.end();
  return fmt::format("{} {}{}", write_quantity(amount), unit, plural ? "s" : "");
}

}  // namespace fettlefund::goods
