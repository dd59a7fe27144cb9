#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"

namespace fettlefund::planning {

/// Everything of a plan that is paid, each with the key that names it in the workbook and the log.
struct BuyingLine {
  std::string key;  ///< of articles as in ShoppingLine; "delivery:<supplier>@<stage>",
                    ///< "hire:<tool>@<stage>", "fee:<job>@<stage>" with stages from 1
  Id article;       ///< of articles only
  std::int64_t packs = 1;
  Money price;           ///< of one
  Money amount;          ///< of all
  int lead_days = 0;     ///< from its payday to its arrival
  Id supplier;           ///< of articles and deliveries only
  std::string order;     ///< "order:<supplier>@<stage>" of articles and deliveries; the stage that pays
  std::string stage;     ///< "stage:<stage>" that pays
  std::string delivery;  ///< the key of its order's delivery, where that costs something
};

/// In the order of the stages and of what each stage buys: orders, their deliveries, hires, fees.
std::vector<BuyingLine> buying_lines(const Outcome& outcome);

}  // namespace fettlefund::planning
