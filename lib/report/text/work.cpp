#include "lib/report/text/work.hpp"

#include <algorithm>

#include "lib/goods/packs.hpp"
#include "lib/graph/cautions.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace fettlefund::report {
namespace {

using trade::Kind;

constexpr int width = 80;

std::string hours_text(std::int64_t minutes) { return goods::write_quantity(minutes * 1000 / 60); }

std::string one_line(const Kind& kind) {
  return text::paragraph("  " + text::pad_right(kind.name, 28),
                         fmt::format("{}", fmt::join(kind.words, ", ")), 30, width);
}

std::string titled(std::string_view trade) {
  std::string title(trade);
  title[0] = static_cast<char>(title[0] - 'a' + 'A');
  return title;
}

void add_list(std::string& text, const char* title, const std::vector<std::string>& items) {
  if (items.empty()) return;
  text += fmt::format("{}\n", title);
  for (const std::string& item : items) text += text::paragraph("  - ", item, 4, width);
}

void add_lines(std::string& text, const Kind& kind, bool spoilt) {
  bool first = true;
  for (const trade::Line& line : kind.lines) {
    if (line.spoilt != spoilt) continue;
    if (first) text += spoilt ? "Spoilt each time\n" : "Easily forgotten\n";
    first = false;
    text += text::paragraph("  - ",
                            fmt::format("{} ({}): {} [{}]", line.name,
                                        goods::write_amount(line.amount, line.unit), line.why, line.id),
                            4, width);
  }
}

void add_remarks(std::string& text, const char* title, const std::vector<trade::Remark>& remarks) {
  if (remarks.empty()) return;
  text += fmt::format("{}\n", title);
  for (const trade::Remark& remark : remarks)
    text += text::paragraph("  - ", fmt::format("{} [{}]", remark.text, remark.id), 4, width);
}

std::vector<std::string> caution_texts(const Kind& kind) {
  std::vector<std::string> texts;
  for (const graph::TagCaution& entry : graph::caution_table()) {
    const bool called = std::any_of(kind.cautions.begin(), kind.cautions.end(), [&](const std::string& tag) {
      return std::find(entry.tags.begin(), entry.tags.end(), tag) != entry.tags.end();
    });
    if (called) texts.push_back(entry.caution.text);
  }
  return texts;
}

}  // namespace

std::string work_list(std::string_view trade) {
  std::string text =
      "Kinds of work, and the words they go by. In a job: \"kind\": \"tyre\" and the like;\n"
      "`fettlefund work NAME` shows what one brings. Common practice, no source.\n";
  std::vector<std::string> trades = {"common"};
  trades.insert(trades.end(), trade::trades().begin(), trade::trades().end());
  for (const std::string& one : trades) {
    const bool wanted = trade.empty() || one == trade || one == "common";
    std::string part;
    for (const Kind& kind : trade::kinds()) {
      const bool here = trade.empty() || one == "common" ? kind.trade == one
                                                         : kind.trade != "common" && known_to(kind, trade);
      if (wanted && here) part += one_line(kind);
    }
    if (!part.empty()) text += fmt::format("\n{}\n{}", one == "common" ? "Every trade" : titled(one), part);
  }
  return text;
}

std::string work_kind(const Kind& kind) {
  std::vector<std::string> trades = {kind.trade == "common" ? "every trade" : kind.trade};
  if (kind.trade != "common") trades.insert(trades.end(), kind.also.begin(), kind.also.end());
  std::string text = fmt::format("{} ({})\n", kind.name, fmt::join(trades, ", "));
  text += text::paragraph("Also called ", fmt::format("{}", fmt::join(kind.words, ", ")), 12, width);
  text += fmt::format("Hours, without what comes off: {} to {}, likely {}\n", hours_text(kind.hours.low),
                      hours_text(kind.hours.high), hours_text(kind.hours.likely));
  add_list(text, "Usually comes off", kind.comes_off);
  add_lines(text, kind, false);
  add_lines(text, kind, true);
  if (!kind.none_because.empty()) text += text::paragraph("Nothing to buy: ", kind.none_because, 2, width);
  add_list(text, "Tools", kind.tools);
  if (!kind.second_person.empty()) text += text::paragraph("Second person: ", kind.second_person, 2, width);
  add_remarks(text, "Check afterwards", kind.checks);
  add_remarks(text, "Mind", kind.mind);
  add_list(text, "Take care", caution_texts(kind));
  text +=
      "Common practice, no source: the maker's manual, local codes and licensed practice\n"
      "decide. In [ ] stand the ids that a build overrides under \"rules\" or silences with\n"
      "a reason under \"silence\".\n";
  return text;
}

std::string work_found(const trade::Found& found, std::string_view word) {
  std::string text;
  const std::string asked = text::printable(word);
  if (!found.nearest.empty())
    text += fmt::format("Nothing goes by \"{}\"; the nearest is \"{}\".\n\n", asked, found.nearest);
  const bool one = found.kinds.size() == 1 || found.by_name;
  if (!one) {
    text += fmt::format("{} kinds of work go by \"{}\":\n", found.kinds.size(),
                        found.nearest.empty() ? asked : found.nearest);
    for (const Kind* kind : found.kinds) text += one_line(*kind);
    return text + "`fettlefund work NAME` shows what one brings.\n";
  }
  text += work_kind(*found.kinds.front());
  std::vector<const Kind*> others(found.kinds.begin() + 1, found.kinds.end());
  if (!others.empty())
    text +=
        text::paragraph("", "By that word go too: " + trade::names_of(others, others.size()) + ".", 2, width);
  return text;
}

}  // namespace fettlefund::report
