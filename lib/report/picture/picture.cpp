#include "lib/report/picture/picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "lib/report/picture/layout.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

// Hues that people with any common colour blindness can tell apart (after Okabe and Ito, Color Universal
// Design, 2008; the yellow darker, so that lines of it show), each with a pale tint for the ground.
struct Hue {
  const char *strong, *pale, *on_strong;
};
constexpr std::array<Hue, 7> hues = {{{"#0072b2", "#eaf3f9", "#ffffff"},
                                      {"#e69f00", "#fdf5e5", "#000000"},
                                      {"#009e73", "#e6f5f1", "#000000"},
                                      {"#d55e00", "#fbeee5", "#ffffff"},
                                      {"#56b4e9", "#edf7fd", "#000000"},
                                      {"#cc79a7", "#f9f1f5", "#000000"},
                                      {"#b8ac00", "#f8f7e5", "#000000"}}};
constexpr Hue grey = {"#777777", "#f3f3f3", "#ffffff"};
constexpr const char* clash_colour = "#b03000";
constexpr double line_height = 1.2, mark = 1.75;

std::string n(double value) { return svg_number(value); }

class Drawing {
 public:
  Drawing(const PictureModel& model, const PictureLayout& layout) : model_(model), layout_(layout) {}

  std::string whole() {
    const double scale = 210 / layout_.width;
    put("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    put(fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"210mm\" height=\"{}mm\" "
        "viewBox=\"0 0 {} {}\" role=\"img\" font-family=\"Arial, Helvetica, 'Liberation Sans', "
        "'DejaVu Sans', sans-serif\" fill=\"#000000\">\n",
        n(layout_.height * scale), n(layout_.width), n(layout_.height)));
    put("<title>" + svg_text(model_.title) + ": the stages and what depends on what</title>\n");
    put(fmt::format("<rect width=\"{}\" height=\"{}\" fill=\"#ffffff\"/>\n", n(layout_.width),
                    n(layout_.height)));
    write(8, 9, 5, model_.title, "font-weight=\"bold\"");
    write(8, 13.5, 2.6, model_.subtitle);
    for (std::size_t b = 0; b < model_.bands.size(); ++b) ground(b);
    for (const bool level : {false, true}) {
      for (std::size_t a = 0; a < model_.arrows.size(); ++a) {
        if (layout_.arrows[a].level == level) arrow(a);
      }
    }
    for (std::size_t b = 0; b < model_.bands.size(); ++b) {
      for (const PlacedStrip& one : layout_.bands[b].strips) ticks(one);
      for (const PlacedStrip& one : layout_.bands[b].strips) strip(one);
      write(layout_.left + 1, layout_.bands[b].remarks_y, layout_.bands[b].remarks, "font-style=\"italic\"");
    }
    for (std::size_t b = 0; b < model_.boxes.size(); ++b) box(b);
    foot();
    put("</svg>\n");
    return std::move(all_);
  }

 private:
  void put(const std::string& text) { all_ += text; }

  void write(double x, double y, double size, const std::string& text, const std::string& more = "") {
    put(fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{}>{}</text>\n", n(x), n(y), n(size),
                    more.empty() ? "" : " ", more, svg_text(text)));
  }

  /// Lines from `y` (the upper edge) down; returns the lower edge.
  double write(double x, double y, const Lettering& text, const std::string& more = "") {
    for (const std::string& one : text.lines) {
      write(x, y + text.size * 0.95, text.size, one, more);
      y += text.size * line_height;
    }
    return y;
  }

  static const Hue& hue_of(int stage) {
    return stage < 0 ? grey : hues[static_cast<std::size_t>(stage) % hues.size()];
  }
  const Hue& hue_of_box(int b) const {
    const Box& one = model_.boxes[static_cast<std::size_t>(b)];
    return hue_of(model_.bands[static_cast<std::size_t>(one.band)].stage);
  }

  void rect(double x, double y, double width, double height, const std::string& more) {
    put(fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/>\n", n(x), n(y), n(width),
                    n(height), more));
  }

  void ground(std::size_t b) {
    const Band& band = model_.bands[b];
    const PlacedBand& placed = layout_.bands[b];
    const Hue& hue = hue_of(band.stage);
    rect(8, placed.y, layout_.width - 16, placed.height, fmt::format("fill=\"{}\"", hue.pale));
    rect(8, placed.y, layout_.left - 10, placed.height, fmt::format("fill=\"{}\"", hue.strong));
    const std::string ink = fmt::format("fill=\"{}\"", hue.on_strong);
    double y = placed.y + 3.5;
    for (std::size_t i = 0; i < band.label.size(); ++i) {
      write(9.2, y, i == 0 ? 2.8 : 2.15, band.label[i], ink + (i == 0 ? " font-weight=\"bold\"" : ""));
      y += 2.9;
    }
  }

  /// Straight lines with rounded corners.
  static std::string path_of(const std::vector<Point>& points) {
    std::string path = fmt::format("M{} {}", n(points[0].x), n(points[0].y));
    for (std::size_t i = 1; i + 1 < points.size(); ++i) {
      const Point &a = points[i - 1], &b = points[i], &c = points[i + 1];
      const double radius = std::min({1.0, length(a, b) / 2, length(b, c) / 2});
      const Point in = towards(b, a, radius), out = towards(b, c, radius);
      path += fmt::format(" L{} {} Q{} {} {} {}", n(in.x), n(in.y), n(b.x), n(b.y), n(out.x), n(out.y));
    }
    return path + fmt::format(" L{} {}", n(points.back().x), n(points.back().y));
  }

  static double length(const Point& a, const Point& b) { return std::abs(a.x - b.x) + std::abs(a.y - b.y); }

  /// The point `by` mm from `a` towards `b`, along a line that is upright or level.
  static Point towards(const Point& a, const Point& b, double by) {
    const double all = length(a, b);
    if (all < 1e-9) return a;
    return {a.x + (b.x - a.x) * by / all, a.y + (b.y - a.y) * by / all};
  }

  /// The corners of a head whose tip is `b` on a line that comes from `a`, upright or level.
  static std::string arrow_head(const Point& a, const Point& b) {
    const Point back = towards(b, a, std::min(1.7, length(a, b)));
    const double across = a.y == b.y ? 0 : 0.9, along = a.y == b.y ? 0.9 : 0;
    return fmt::format("{},{} {},{} {},{}", n(b.x), n(b.y), n(back.x - across), n(back.y - along),
                       n(back.x + across), n(back.y + along));
  }

  void arrow(std::size_t a) {
    const Arrow& from = model_.arrows[a];
    const PlacedArrow& placed = layout_.arrows[a];
    const char* colour = hue_of_box(from.from).strong;
    const std::string path = path_of(placed.points);
    put(fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#ffffff\" stroke-width=\"1.1\"/>\n", path));
    put(fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"0.5\"/>\n", path, colour));
    const std::string head = arrow_head(placed.points[placed.points.size() - 2], placed.points.back());
    put(fmt::format("<polygon points=\"{}\" fill=\"{}\"/>\n", head, colour));
  }

  void ticks(const PlacedStrip& placed) {
    for (const double x : placed.ticks) {
      put(fmt::format("<path d=\"M{} {}V{}\" stroke=\"#555555\" stroke-width=\"0.3\"/>\n", n(x),
                      n(placed.y + placed.height), n(placed.tick_to)));
    }
  }

  void strip(const PlacedStrip& placed) {
    rect(placed.x, placed.y, placed.width, placed.height,
         "rx=\"1.4\" fill=\"#e2e2e2\" stroke=\"#555555\" stroke-width=\"0.25\"");
    write(placed.x + 1.2, placed.y + 0.4, placed.text);
  }

  void box(std::size_t b) {
    const Box& from = model_.boxes[b];
    const PlacedBox& placed = layout_.boxes[b];
    outline(from, placed, hue_of_box(static_cast<int>(b)).strong);
    double y = write(placed.x + 1.1, placed.y + 1.1, placed.name,
                     from.kind == BoxKind::must ? "font-weight=\"bold\"" : "");
    write(placed.x + 1.1, y, placed.about);
    if (!placed.takes_off.lines.empty()) {
      const double height =
          static_cast<double>(placed.takes_off.lines.size()) * placed.takes_off.size * line_height + 0.8;
      y = placed.y + placed.height - height;
      put(
          fmt::format("<path d=\"M{} {}H{}\" stroke=\"#555555\" stroke-width=\"0.25\" stroke-dasharray=\"1 "
                      "0.7\"/>\n",
                      n(placed.x), n(y), n(placed.x + placed.width)));
      write(placed.x + 1.1, y + 0.3, placed.takes_off, "font-style=\"italic\"");
    }
    marks(from, placed);
  }

  void outline(const Box& from, const PlacedBox& placed, const char* colour) {
    std::string look = fmt::format("fill=\"#ffffff\" stroke=\"{}\" stroke-width=\"0.5\"", colour);
    if (from.kind == BoxKind::fitted)
      look = "fill=\"#ffffff\" stroke=\"#555555\" stroke-width=\"0.35\" rx=\"3.5\"";
    if (from.kind == BoxKind::left_out) {
      look = "fill=\"#fafafa\" stroke=\"#777777\" stroke-width=\"0.35\" stroke-dasharray=\"1.2 0.9\"";
    }
    if (from.kind == BoxKind::must) {
      rect(placed.x - 0.7, placed.y - 0.7, placed.width + 1.4, placed.height + 1.4, look);
    }
    rect(placed.x, placed.y, placed.width, placed.height, look);
  }

  void marks(const Box& from, const PlacedBox& placed) {
    double x = placed.x + placed.width - mark - 0.5;
    const auto put_all = [&](const std::vector<int>& numbers, bool clash) {
      for (const int number : numbers) {
        diamond(x, placed.y + mark + 0.5, std::to_string(number), clash);
        x -= 2 * mark + 0.5;
      }
    };
    put_all(from.clashes, true);
    put_all(from.settles, false);
  }

  void diamond(double x, double y, const std::string& number, bool clash) {
    put(
        fmt::format("<polygon points=\"{},{} {},{} {},{} {},{}\" fill=\"{}\" stroke=\"{}\" "
                    "stroke-width=\"0.35\"/>\n",
                    n(x), n(y - mark), n(x + mark), n(y), n(x), n(y + mark), n(x - mark), n(y),
                    clash ? clash_colour : "#ffffff", clash_colour));
    write(x, y + 0.75, 2.1, number,
          fmt::format("text-anchor=\"middle\" font-weight=\"bold\" fill=\"{}\"",
                      clash ? "#ffffff" : clash_colour));
  }

  void sample(double x, double y, BoxKind kind, const std::string& text) {
    Box from;
    from.kind = kind;
    PlacedBox placed;
    placed.x = x;
    placed.y = y;
    placed.width = 8;
    placed.height = 3.6;
    outline(from, placed, hues[0].strong);
    write(x + 10, y + 2.6, 2.3, text);
  }

  /// What the signs mean, then the clashes.
  void foot() {
    const double y = layout_.foot, second = layout_.width / 2;
    write(8, y + 2.5, 2.6, "Signs", "font-weight=\"bold\"");
    sample(8, y + 4.5, BoxKind::job, "job; a dashed line in it: the fitted thing below comes off for good");
    sample(8, y + 9.5, BoxKind::must, "job that must be done");
    sample(8, y + 14.5, BoxKind::left_out, "job that the plan leaves out");
    sample(second, y + 4.5, BoxKind::fitted, "fitted thing that stays on the machine");
    PlacedStrip off;
    off.x = second;
    off.y = y + 9.5;
    off.width = 8;
    off.height = 3.6;
    off.text = {{"off:"}, 2.15};
    strip(off);
    write(second + 10, y + 12.1, 2.3, "comes off for the boxes under its ticks, and goes back on");
    put(fmt::format(
        "<path d=\"M{} {}H{}\" stroke=\"{}\" stroke-width=\"0.5\"/>\n<polygon points=\"{},{} {},{} "
        "{},{}\" fill=\"{}\"/>\n",
        n(second), n(y + 16.3), n(second + 7), hues[0].strong, n(second + 8), n(y + 16.3), n(second + 6.3),
        n(y + 15.4), n(second + 6.3), n(y + 17.2), hues[0].strong));
    write(second + 10, y + 17.1, 2.3, "must be done before; in the colour of its stage");
    clashes(y + 21);
  }

  void clashes(double y) {
    if (!model_.clashes.empty()) {
      diamond(10, y, "", true);
      diamond(14.5, y, "", false);
      write(18, y + 0.8, 2.3, "do not fit together; makes them fit:");
    }
    y += 3;
    for (std::size_t c = 0; c < layout_.clashes.size(); ++c) {
      diamond(10, y + 1.4, std::to_string(c + 1), true);
      y = write(14, y, layout_.clashes[c]) + 1;
    }
  }

  const PictureModel& model_;
  const PictureLayout& layout_;
  std::string all_;
};

}  // namespace

std::string picture(const planning::Outcome& outcome) {
  const PictureModel model = picture_model(outcome);
  return Drawing(model, lay_out_on_a4(model)).whole();
}

}  // namespace fettlefund::report
