#include "budgets/search/amounts.hpp"

namespace fettlefund::budgets::search {

std::int64_t scale_down(std::int64_t a, std::int64_t b, std::int64_t c) {
  __extension__ using Wide = __int128;
  return static_cast<std::int64_t>(static_cast<Wide>(a) * b / c);
}

std::int64_t with_allowance(std::int64_t bare, std::int64_t allowance_bp) {
  const std::int64_t whole = bare / 10000 * allowance_bp;
  const std::int64_t part = bare % 10000 * allowance_bp;
  return bare + whole + (part + 9999) / 10000;
}

std::int64_t before_allowance(std::int64_t money, std::int64_t allowance_bp) {
  return money < 0 ? -1 : scale_down(money, 10000, 10000 + allowance_bp);
}

}  // namespace fettlefund::budgets::search
