#include "lib/fitment/tyre.hpp"

#include <array>
#include <numbers>
#include <stdexcept>

#include "lib/fitment/units.hpp"
#include "lib/text/ascii.hpp"

namespace fettlefund::fitment {
namespace {

constexpr std::size_t longest_code = 40;

bool is_letter(char c) { return c >= 'A' && c <= 'Z'; }

/// Walks along the code from left to right.
class Walk {
 public:
  explicit Walk(std::string_view text) : rest_(text) {}
  bool at_end() const { return rest_.empty(); }
  void skip_blanks() {
    while (!rest_.empty() && (rest_[0] == ' ' || rest_[0] == '\t')) rest_.remove_prefix(1);
  }
  bool take(std::string_view word) {
    if (!rest_.starts_with(word)) return false;
    rest_.remove_prefix(word.size());
    return true;
  }
  /// One to three digits.
  std::optional<int> number() {
    int value = 0;
    std::size_t digits = 0;
    while (digits < rest_.size() && text::is_digit(rest_[digits])) {
      if (digits == 3) return std::nullopt;
      value = 10 * value + (rest_[digits++] - '0');
    }
    if (digits == 0) return std::nullopt;
    rest_.remove_prefix(digits);
    return value;
  }
  /// Everything up to the next blank.
  std::string_view word() {
    const std::string_view word = rest_.substr(0, rest_.find_first_of(" \t"));
    rest_.remove_prefix(word.size());
    return word;
  }

 private:
  std::string_view rest_;
};

std::string upper(std::string_view text) {
  std::string result(text);
  for (char& c : result) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return result;
}

std::optional<TyreBuild> take_build(Walk& walk) {
  if (walk.take("-")) return TyreBuild::diagonal;
  if (walk.take("ZR") || walk.take("R")) return TyreBuild::radial;
  if (walk.take("B")) return TyreBuild::bias_belted;
  return std::nullopt;
}

/// "73W" of "73W" or "(73W)"; "" when the word is no service mark.
std::string service_mark(std::string_view word) {
  if (word.starts_with('(') && word.ends_with(')')) word = word.substr(1, word.size() - 2);
  if (word.size() < 3 || word.size() > 4 || !is_letter(word.back())) return "";
  for (const char c : word.substr(0, word.size() - 1)) {
    if (!text::is_digit(c)) return "";
  }
  return std::string(word);
}

/// Reads what may follow the size; false when something there is not understood.
bool take_marks(Walk& walk, TyreSize& size) {
  for (walk.skip_blanks(); !walk.at_end(); walk.skip_blanks()) {
    const std::string_view word = walk.word();
    if (word == "M/C" || word == "TL" || word == "TT") continue;
    if (!size.service.empty()) return false;
    size.service = service_mark(word);
    if (size.service.empty()) return false;
  }
  return true;
}

/// The size proper, without the marks after it.
std::optional<TyreSize> take_size(Walk& walk) {
  const auto width = walk.number();
  if (!width || !walk.take("/")) return std::nullopt;
  const auto aspect = walk.number();
  walk.skip_blanks();
  const auto build = take_build(walk);
  walk.skip_blanks();
  if (!aspect || !build) return std::nullopt;
  const auto rim = walk.number();
  if (!rim) return std::nullopt;
  return TyreSize{*width, *aspect, *rim, *build, ""};
}

std::string range_fault(const TyreSize& size) {
  try {
    tyre_diameter_mm(size);
  } catch (const std::domain_error& error) {
    return error.what();
  }
  return "";
}

/// Why a text that is not in the metric form is refused, as closely as its shape tells.
std::string shape_fault(std::string_view code) {
  const std::string known =
      "write the metric form width/aspect-rim, such as 120/70-17, or give the measured size";
  if (is_letter(code[0])) return "a letter size says nothing exact about the diameter; " + known;
  Walk walk(code);
  const auto first = walk.number();
  if (first && walk.take(".")) return "an inch size has no aspect ratio; " + known;
  if (first && walk.take("-")) return "a bead-seat or inch size has no aspect ratio; " + known;
  walk.skip_blanks();
  if (first && walk.take("R")) return "the aspect ratio is missing; " + known;
  return "not a tyre size of the metric form; " + known;
}

TyreReading no_tyre(std::string why) { return {std::nullopt, std::move(why)}; }

}  // namespace

TyreReading read_tyre_size(std::string_view text) {
  const std::string code = upper(trimmed(text));
  if (code.empty()) return no_tyre("no tyre size written");
  if (code.size() > longest_code) return no_tyre("too long for a tyre size");
  Walk walk(code);
  auto size = take_size(walk);
  if (!size) return no_tyre(shape_fault(code));
  if (const std::string why = range_fault(*size); !why.empty()) return no_tyre(why);
  if (!take_marks(walk, *size)) {
    return no_tyre("after the size only M/C, TL, TT and one service mark such as 73W are understood");
  }
  return {size, ""};
}

std::string write_tyre_size(const TyreSize& size) {
  constexpr std::array builds{"-", " B", " R"};
  return std::to_string(size.width_mm) + "/" + std::to_string(size.aspect_percent) +
         builds[static_cast<std::size_t>(size.build)] + std::to_string(size.rim_inches);
}

double tyre_diameter_mm(const TyreSize& size) {
  require_range("tyre width in mm", size.width_mm, 40, 455);
  require_range("aspect ratio of a tyre in percent", size.aspect_percent, 20, 110);
  require_range("rim code of a tyre in inches", size.rim_inches, 8, 24);
  return mm_per_inch * size.rim_inches + 2.0 * size.width_mm * size.aspect_percent / 100;
}

double tyre_circumference_m(const TyreSize& size, double rolling_factor) {
  require_range("rolling factor", rolling_factor, 0.9, 1.05);
  return std::numbers::pi * tyre_diameter_mm(size) * rolling_factor / 1000;
}

std::optional<int> un75_diameter_mm(const TyreSize& size) {
  tyre_diameter_mm(size);
  constexpr std::array<std::array<int, 2>, 5> rims{{{16, 406}, {17, 432}, {18, 457}, {19, 483}, {21, 533}}};
  for (const auto& [code, diameter_mm] : rims) {
    const int height_mm = (size.width_mm * size.aspect_percent + 50) / 100;
    if (code == size.rim_inches) return diameter_mm + 2 * height_mm;
  }
  return std::nullopt;
}

}  // namespace fettlefund::fitment
