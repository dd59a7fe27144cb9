#pragma once
#include <cstdint>

namespace fettlefund::budgets::search {

// The same integers on every machine; wide registers are used where the machine has them.

/// to[i] = max(keep[i], from[i] + gain) for 0 <= i < count. `to` may be `keep`, and then `from` may overlap
/// it from above.
void blend(std::int32_t* to, const std::int32_t* keep, const std::int32_t* from, std::int32_t gain,
           std::int64_t count);

/// to[i] = max(to[i], from[i] + gain).
inline void raise(std::int32_t* to, const std::int32_t* from, std::int32_t gain, std::int64_t count) {
  blend(to, to, from, gain, count);
}

}  // namespace fettlefund::budgets::search
