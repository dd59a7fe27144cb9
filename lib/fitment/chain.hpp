#pragma once
#include <compare>
#include <optional>

/// Geometry of a roller chain round two sprockets. Symbols in the formulas: p pitch, N1 and N2 teeth of the
/// smaller and the larger sprocket, C distance between the shaft centres, L chain length in pitches ("links":
/// inner and outer links both count), R = p / (2 sin(pi/N)) radius of a pitch circle, a = asin((R2-R1)/C).
/// Every function throws std::domain_error when an argument is outside the stated range.
namespace fettlefund::fitment {

inline constexpr int fewest_teeth = 6;
inline constexpr int most_teeth = 250;
inline constexpr double least_pitch_mm = 3;
inline constexpr double most_pitch_mm = 120;
inline constexpr double most_centre_mm = 50'000;
inline constexpr double most_links = 10'000;

/// Tooth counts, each fewest_teeth to most_teeth. Either may be the larger.
struct Sprockets {
  int driving = 0;
  int driven = 0;
  friend auto operator<=>(const Sprockets&, const Sprockets&) = default;
};

/// Two sprockets and the chain's pitch (least_pitch_mm to most_pitch_mm).
struct ChainDrive {
  Sprockets sprockets;
  double pitch_mm = 0;
};

/// D = p / sin(pi/N). Source: definition of the pitch circle; ANSI B29.1, Precision Power Transmission Roller
/// Chains, Attachments, and Sprockets (1975).
double pitch_diameter_mm(double pitch_mm, int teeth);

/// The centre distance at which the two pitch circles touch, (D1 + D2) / 2. No drive is closer than this.
double closest_centre_mm(const ChainDrive& drive);

/// L = 2C/p + (N1+N2)/2 + ((N2-N1)/2pi)^2 p/C, the usual handbook formula (Budynas and Nisbett, Shigley's
/// Mechanical Engineering Design, chapter 17). `centre_mm`: closest_centre_mm to most_centre_mm.
double links_by_formula(const ChainDrive& drive, double centre_mm);

/// L = 2 (C/p) cos a + N2 (1/2 + a/pi) + N1 (1/2 - a/pi): straight runs tangent to the pitch circles, arcs
/// counted in teeth. Leaves out only the small rise and fall of the chain over each tooth. Same range.
/// Agrees with links_by_formula within 0.01 link on drives of usual proportions (up to 42 teeth of
/// difference, 30 pitches and more between centres: at most 0.0063).
double links_exact(const ChainDrive& drive, double centre_mm);

/// C = p/4 [b + sqrt(b^2 - 8 ((N2-N1)/2pi)^2)], b = L - (N1+N2)/2: the handbook formula solved for C.
/// `links`: > 0 to most_links. Nothing when the chain is too short to go round (C < closest_centre_mm).
std::optional<double> centre_by_formula_mm(const ChainDrive& drive, double links);

/// The centre distance at which links_exact gives `links` (need not be whole), by bisection to the last bit.
/// Same range; nothing when the chain is too short to go round.
std::optional<double> centre_exact_mm(const ChainDrive& drive, double links);

/// Length of a straight run between the sprockets, C cos a.
double free_span_mm(const ChainDrive& drive, double centre_mm);

/// Angle over which the chain lies on the smaller sprocket, 180 - 2a in degrees (0 to 180).
double wrap_degrees(const ChainDrive& drive, double centre_mm);

/// Teeth of the smaller sprocket in mesh: N1 wrap / 360. Not rounded.
double teeth_in_mesh(const ChainDrive& drive, double centre_mm);

/// Mean chain speed N p n / 60000. `rpm` of that sprocket: 0 to 100000.
double chain_speed_m_per_s(double pitch_mm, int teeth, double rpm);

}  // namespace fettlefund::fitment
