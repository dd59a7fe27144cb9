#include "lib/sheets/book/looks.hpp"

#include <cstdint>
#include <iterator>
#include <stdexcept>

#include <xlsxwriter.h>

namespace fettlefund::sheets {

namespace {

constexpr lxw_color_t kHair = 0xBFBFBF;
constexpr lxw_color_t kInputFill = 0xFDF6C8;    // tint of yellow
constexpr lxw_color_t kBandFill = 0xDCEFFA;     // tint of sky blue
constexpr lxw_color_t kCareFill = 0xFBE6D8;     // tint of vermilion
constexpr lxw_color_t kWarningFill = 0xF6C9A8;  // stronger tint of vermilion
constexpr lxw_color_t kWarningInk = 0x6B2A00;
constexpr lxw_color_t kQuiet = 0x595959;
constexpr lxw_color_t kWhite = 0xFFFFFF;

void fill(lxw_format* format, lxw_color_t color) {
  format_set_pattern(format, LXW_PATTERN_SOLID);
  format_set_fg_color(format, color);
}

void body(lxw_format* format) {
  format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
  format_set_bottom(format, LXW_BORDER_THIN);
  format_set_bottom_color(format, kHair);
}

void hint(lxw_format* format) {
  body(format);
  format_set_font_color(format, kQuiet);
  format_set_italic(format);
  format_set_font_size(format, 9);
}

void strong(lxw_format* format) {
  body(format);
  format_set_bold(format);
}

void title(lxw_format* format) {
  format_set_bold(format);
  format_set_font_size(format, 16);
  format_set_font_color(format, Looks::kBlue);
}

void note(lxw_format* format) {
  format_set_font_color(format, kQuiet);
  format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
}

void prose(lxw_format* format) {
  note(format);
  format_set_text_wrap(format);
}

void header(lxw_format* format) {
  fill(format, Looks::kBlue);
  format_set_font_color(format, kWhite);
  format_set_bold(format);
  format_set_text_wrap(format);
  format_set_align(format, LXW_ALIGN_VERTICAL_CENTER);
  format_set_border(format, LXW_BORDER_THIN);
  format_set_border_color(format, kWhite);
}

void header_right(lxw_format* format) {
  header(format);
  format_set_align(format, LXW_ALIGN_RIGHT);
}

void centred(lxw_format* format) {
  body(format);
  format_set_align(format, LXW_ALIGN_CENTER);
}

void linked(lxw_format* format) {
  centred(format);
  format_set_font_color(format, Looks::kBlue);
  format_set_underline(format, LXW_UNDERLINE_SINGLE);
}

void band(lxw_format* format) {
  fill(format, kBandFill);
  format_set_bold(format);
  format_set_top(format, LXW_BORDER_THIN);
  format_set_top_color(format, Looks::kBlue);
}

void input(lxw_format* format) {
  fill(format, kInputFill);
  format_set_border(format, LXW_BORDER_DOTTED);  // tells it apart where a print has no yellow
  format_set_border_color(format, kQuiet);
  format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
  format_set_unlocked(format);
}

void tick(lxw_format* format) {
  input(format);
  format_set_bold(format);
  format_set_align(format, LXW_ALIGN_CENTER);
}

void care(lxw_format* format) {
  body(format);
  fill(format, kCareFill);
}

void dress(lxw_format* format, Look look) {
  switch (look) {
    case Look::body:
    case Look::figure:
      return body(format);
    case Look::hint:
      return hint(format);
    case Look::strong:
      return strong(format);
    case Look::title:
      return title(format);
    case Look::note:
      return note(format);
    case Look::header:
      return header(format);
    case Look::header_right:
      return header_right(format);
    case Look::linked:
      return linked(format);
    case Look::centred:
      return centred(format);
    case Look::band:
    case Look::band_total:
      return band(format);
    case Look::input:
    case Look::typed:
      return input(format);
    case Look::tick:
      return tick(format);
    case Look::care:
      return care(format);
    case Look::prose:
      return prose(format);
  }
}

bool wraps(Look look) {
  return look != Look::title && look != Look::note && look != Look::band && look != Look::band_total;
}

/// Texts beside a column of figures would touch them.
bool indented(Look look) {
  return look == Look::body || look == Look::hint || look == Look::typed || look == Look::strong ||
         look == Look::figure || look == Look::care || look == Look::input || look == Look::linked ||
         look == Look::header || look == Look::band_total;
}

std::string number_format(Shown shown, int digits) {
  switch (shown) {
    case Shown::money:
      return money_format(digits);
    case Shown::date:
      return "yyyy-mm-dd";
    case Shown::count:
      return "0";
    case Shown::tenths:
      return "0.0";
    case Shown::hours:
    case Shown::percent:
    case Shown::hundredths:
      return "0.00";
    case Shown::thousandths:
      return "0.000";
    case Shown::finer:
      return "0.0000";
    case Shown::text:
      break;
  }
  return "";
}

}  // namespace

std::string money_format(int digits) {
  return digits == 0 ? "#,##0" : "#,##0." + std::string(static_cast<std::size_t>(digits), '0');
}

void Looks::fill_column(lxw_chart_series* series, std::size_t index) {
  struct Fill {
    lxw_color_t color;
    std::uint8_t pattern;  // LXW_CHART_PATTERN_NONE: solid
  };
  static constexpr Fill kFills[] = {{kBlue, LXW_CHART_PATTERN_NONE},
                                    {0xE69F00, LXW_CHART_PATTERN_WIDE_UPWARD_DIAGONAL},
                                    {0x009E73, LXW_CHART_PATTERN_NARROW_HORIZONTAL},
                                    {0x56B4E9, LXW_CHART_PATTERN_NONE},
                                    {kVermilion, LXW_CHART_PATTERN_WIDE_DOWNWARD_DIAGONAL},
                                    {0xCC79A7, LXW_CHART_PATTERN_LARGE_GRID},
                                    {0xF0E442, LXW_CHART_PATTERN_NONE},
                                    {0x404040, LXW_CHART_PATTERN_PERCENT_25}};
  const Fill& fill = kFills[index % std::size(kFills)];
  if (fill.pattern == LXW_CHART_PATTERN_NONE) {
    lxw_chart_fill solid{};
    solid.color = fill.color;
    return chart_series_set_fill(series, &solid);
  }
  lxw_chart_pattern pattern{};
  pattern.fg_color = kWhite;
  pattern.bg_color = fill.color;
  pattern.type = fill.pattern;
  chart_series_set_pattern(series, &pattern);
}

lxw_format* Looks::fresh() const {
  lxw_format* format = workbook_add_format(workbook_);
  if (format == nullptr) throw std::runtime_error("out of memory while laying out the workbook");
  return format;
}

lxw_format* Looks::make(Style style) const {
  lxw_format* format = fresh();
  dress(format, style.look);
  const std::string number = number_format(style.shown, digits_);
  const bool figures = style.shown != Shown::text && style.shown != Shown::date &&
                       style.look != Look::centred && style.look != Look::linked;
  // "_)" keeps a figure off the edge. Not an indent: one spreadsheet program drops it on neighbouring cells.
  if (!number.empty()) format_set_num_format(format, (figures ? number + "_)" : number).c_str());
  if (number.empty() && style.look == Look::typed) format_set_num_format(format, "@");
  if (style.shown == Shown::date) format_set_align(format, LXW_ALIGN_LEFT);
  if (style.shown == Shown::text && wraps(style.look)) format_set_text_wrap(format);
  if (figures) format_set_align(format, LXW_ALIGN_RIGHT);
  if ((!figures && indented(style.look)) || style.look == Look::header_right) format_set_indent(format, 1);
  return format;
}

lxw_format* Looks::of(Style style) {
  lxw_format*& format = made_[style];
  if (format == nullptr) format = make(style);
  return format;
}

lxw_format* Looks::of(Tone tone) {
  lxw_format*& format = tones_[tone];
  if (format != nullptr) return format;
  format = fresh();
  if (tone == Tone::warning) {
    format_set_bg_color(format, kWarningFill);
    format_set_font_color(format, kWarningInk);
    format_set_bold(format);
  } else {
    format_set_font_color(format, kQuiet);
    format_set_italic(format);
  }
  return format;
}

}  // namespace fettlefund::sheets
