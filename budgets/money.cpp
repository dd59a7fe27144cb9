#include "budgets/money.hpp"

namespace fettlefund::budgets {

Money operator+(Money a, Money b) {
  std::int64_t sum = 0;
  if (__builtin_add_overflow(a.minor_, b.minor_, &sum)) throw MoneyOverflow();
  return Money(sum);
}

Money operator-(Money a, Money b) {
  std::int64_t difference = 0;
  if (__builtin_sub_overflow(a.minor_, b.minor_, &difference)) throw MoneyOverflow();
  return Money(difference);
}

Money operator*(Money a, std::int64_t times) {
  std::int64_t product = 0;
  if (__builtin_mul_overflow(a.minor_, times, &product)) throw MoneyOverflow();
  return Money(product);
}

Money percentage_rounded_up(Money amount, std::int64_t basis_points) {
  const Money product = amount * basis_points;
  return Money::of_minor(product.minor() / 10000 + (product.minor() % 10000 != 0 ? 1 : 0));
}

}  // namespace fettlefund::budgets
