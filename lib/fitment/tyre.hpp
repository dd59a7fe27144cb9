#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace fettlefund::fitment {

/// How the carcass is built, as the size code says it.
enum class TyreBuild {
  diagonal,     ///< "-"
  bias_belted,  ///< "B"
  radial,       ///< "R" or "ZR"
};

/// A tyre in the metric width/aspect form.
struct TyreSize {
  int width_mm = 0;        ///< 40 to 455
  int aspect_percent = 0;  ///< height of the side wall in percent of the width, 20 to 110
  int rim_inches = 0;      ///< code of the rim's diameter, 8 to 24
  TyreBuild build = TyreBuild::diagonal;
  std::string service;  ///< "73W" as written after the size; "" when it is not given
  friend bool operator==(const TyreSize&, const TyreSize&) = default;
};

/// Result of reading a size: either `size` is set or `fault` says why not.
struct TyreReading {
  std::optional<TyreSize> size;
  std::string fault;
};

/// Reads `120/70-17`, `130/80B17`, `180/55ZR17`, `180/55 R17`, in either case of letters, optionally followed
/// by M/C, TL, TT and a service mark such as 73W or (73W). Everything else (inch sizes such as 3.25-19,
/// letter sizes such as MT90B16, bead-seat sizes such as 37-622, sizes without an aspect ratio) is refused,
/// never guessed.
TyreReading read_tyre_size(std::string_view text);

/// "180/55 R17", "120/70-17", "130/80 B17": one spelling for every way of writing a size; no service mark.
std::string write_tyre_size(const TyreSize& size);

/// D = 25.4 R + 2 W A / 100 in mm: geometry of the size code, neither worn nor loaded. Throws
/// std::domain_error, as do the next two, when the size is outside TyreSize's ranges.
double tyre_diameter_mm(const TyreSize& size);

/// pi D x `rolling_factor` in m. The factor (0.9 to 1.05) is what rolling under load leaves of the geometric
/// circumference; 1.0 claims nothing and is the default.
double tyre_circumference_m(const TyreSize& size, double rolling_factor = 1.0);

/// The design diameter d + 2H of UN Regulation 75 (tyres for motorcycles and mopeds), H rounded to whole mm,
/// d from its table for rim codes 16, 17, 18, 19 and 21 (values from memory); nothing for other rims.
std::optional<int> un75_diameter_mm(const TyreSize& size);

}  // namespace fettlefund::fitment
