#pragma once
#include <cstdint>

namespace fettlefund::budgets::search {

/// to[i] = max(to[i], from[i] + gain) for 0 <= i < count. The ranges may be the same with `from` >= `to`.
/// The same integers on every machine; uses wide registers where the machine has them.
void raise(std::int32_t* to, const std::int32_t* from, std::int32_t gain, std::int64_t count);

}  // namespace fettlefund::budgets::search
