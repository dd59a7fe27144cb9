#include "budgets/search/bound/kernel.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {
namespace {

void blend_plain(std::int32_t* to, const std::int32_t* keep, const std::int32_t* from, std::int32_t gain,
                 std::int64_t count) {
  for (std::int64_t i = 0; i < count; ++i) to[i] = std::max(keep[i], from[i] + gain);
}

#if defined(__x86_64__) && defined(__GNUC__)
#define FETTLEFUND_WIDE_KERNEL 1
typedef std::int32_t Lanes __attribute__((vector_size(32), aligned(4), may_alias));

/// Ascending blocks read before they write, so that `from` may overlap from above.
__attribute__((target("avx2"))) void blend_wide(std::int32_t* to, const std::int32_t* keep,
                                                const std::int32_t* from, std::int32_t gain,
                                                std::int64_t count) {
  std::int64_t i = 0;
  for (; i + 8 <= count; i += 8) {
    const Lanes sum = *reinterpret_cast<const Lanes*>(from + i) + gain;
    const Lanes old = *reinterpret_cast<const Lanes*>(keep + i);
    *reinterpret_cast<Lanes*>(to + i) = sum > old ? sum : old;
  }
  for (; i < count; ++i) to[i] = std::max(keep[i], from[i] + gain);
}
#endif

}  // namespace

void blend(std::int32_t* to, const std::int32_t* keep, const std::int32_t* from, std::int32_t gain,
           std::int64_t count) {
#ifdef FETTLEFUND_WIDE_KERNEL
  static const bool wide = __builtin_cpu_supports("avx2") != 0;
  if (wide) {
    blend_wide(to, keep, from, gain, count);
    return;
  }
#endif
  blend_plain(to, keep, from, gain, count);
}

}  // namespace fettlefund::budgets::search
