#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "lib/build/model.hpp"

/// Pack arithmetic and wording for people's figures. Which packs are bought is decided in `budgets`.
namespace fettlefund::goods {

using budgets::Quantity;  ///< thousandths of a unit

/// How many whole packs hold `amount`, and what is left over of them. `amount` >= 0, `pack` > 0; anything
/// else throws std::invalid_argument.
struct Packs {
  std::int64_t count = 0;
  Quantity left_over = 0;  ///< 0 to pack - 1
};
Packs packs_for(Quantity amount, Quantity pack);

/// The amount in another unit, rounded up to a thousandth: within m/cm/mm, l/cl/ml, kg/g and piece/pair, or
/// when the units are the same word. Nothing when the units do not convert or the result would not fit.
std::optional<Quantity> in_unit(Quantity amount, std::string_view from, std::string_view to);

/// "1.5", "2", "0.25": at most three decimals, no trailing zeros, a point.
std::string write_quantity(Quantity amount);

/// "1.5 m", "2 pieces", "1 piece", "3 links": English plurals for "piece", "pair", "link", "roll", "tube",
/// "bottle", "tin", "sheet", "set", "strip", "can", "bag"; any other unit as it stands.
std::string write_amount(Quantity amount, std::string_view unit);

}  // namespace fettlefund::goods
