#include "budgets/what_if/least.hpp"

#include <algorithm>

namespace fettlefund::budgets {

Least least_enough(const std::function<Reply(std::int64_t)>& ask, Least least, std::int64_t unlimited) {
  if (!least.at_most) {
    const Reply reply = ask(unlimited);
    if (reply.is == Possible::yes) least.at_most = std::min(reply.enough, unlimited);
    least.never = reply.is == Possible::no;
    if (reply.is != Possible::yes) return least;
  }
  // What was found often needs no more than the least there is: just below it is asked in turn with halving.
  bool just_below = true;
  int open = 0;
  while (least.at_least < *least.at_most && open < 2) {
    const std::int64_t amount =
        just_below ? *least.at_most - 1 : least.at_least + (*least.at_most - least.at_least) / 2;
    const Reply reply = ask(amount);
    if (reply.is == Possible::yes) {
      least.at_most = std::max(least.at_least, std::min(amount, reply.enough));
    } else if (reply.is == Possible::no) {
      least.at_least = amount + 1;
    }
    open = reply.is == Possible::unknown ? open + 1 : 0;
    just_below = !just_below;
  }
  return least;
}

}  // namespace fettlefund::budgets
