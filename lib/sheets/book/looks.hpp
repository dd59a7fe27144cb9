#pragma once
#include <map>
#include <string>

#include "lib/sheets/book/cells.hpp"

struct lxw_chart_series;
struct lxw_format;
struct lxw_workbook;

namespace fettlefund::sheets {

/// The looks of cells in one open workbook, made when first asked for. Colours are those of M. Okabe and K.
/// Ito, "Color Universal Design: How to make figures and presentations that are friendly to colorblind
/// people" (2008), from memory, and tints of them: told apart by people with any colour vision.
class Looks {
 public:
  Looks(lxw_workbook* workbook, int digits) : workbook_(workbook), digits_(digits) {}

  lxw_format* of(Style style);
  lxw_format* of(Tone tone);
  /// Column `index` of a stack, from 0: each with a colour and a pattern of its own, up to eight.
  static void fill_column(lxw_chart_series* series, std::size_t index);

  static constexpr unsigned kBlue = 0x0072B2;
  static constexpr unsigned kVermilion = 0xD55E00;

 private:
  lxw_format* make(Style style) const;
  lxw_format* fresh() const;  ///< throws std::runtime_error when memory is out

  lxw_workbook* workbook_;
  int digits_;
  std::map<Style, lxw_format*> made_;
  std::map<Tone, lxw_format*> tones_;
};

/// The number format of amounts with that many decimals: "#,##0.00" for 2.
std::string money_format(int digits);

}  // namespace fettlefund::sheets
