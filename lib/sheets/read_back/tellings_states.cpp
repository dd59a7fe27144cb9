#include <algorithm>
#include <cstdlib>

#include "lib/log/entry.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/tellings.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

/// What became of things that are bought and of jobs that are not done.
namespace fettlefund::sheets {
namespace {

/// "past:12:seat@1": what the log calls it.
std::string named_in_log(const std::string& key) { return key.substr(key.find(':', 5) + 1); }

std::string list_of(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
  return all;
}

struct State {
  std::optional<std::int64_t> packs;
  std::string word;
};

/// "2 sent back": a number of packs may stand before it.
State state_of(const std::string& text) {
  const std::size_t digits = std::min(text.find_first_not_of("0123456789"), text.size());
  if (digits == 0 || digits > 7) return {{}, text};
  const std::size_t word = std::min(text.find_first_not_of(' ', digits), text.size());
  return {std::atoll(text.substr(0, digits).c_str()), text.substr(word)};
}

}  // namespace

void Tellings::read_past(const KeyedRow& row) {
  remark(row, "Your remark", named_in_log(row.key));
  if (row.sheet == kShopping) read_state(row);
}

void Tellings::read_state(const KeyedRow& row) {
  bool good = true;
  const auto typed = taken(row, "State", read_words(cell(row, "State")), good);
  const auto back = limited(row, "Came back", good);
  const auto on = day(row, "State on", good);
  if (good && on && !typed && !back)
    tell(false, row, "State on", "no state stands beside it; the day alone is not recorded");
  if (!good || (!typed && !back)) return;
  State state = state_of(typed.value_or(""));
  const std::vector<std::string> known = states_of_things();
  const bool arrived = state.word == kArrived;
  if (typed && std::find(known.begin(), known.end(), state.word) == known.end()) {
    const std::string nearest = text::nearest_name(state.word, text::Names(known));
    return tell(true, row, "State",
                fmt::format("found '{}', expected one of {}{}", *typed, list_of(known),
                            nearest.empty() ? "" : "; did you mean '" + nearest + "'?"));
  }
  if (arrived && state.packs)
    return tell(true, row, "State", "arrived is told of the whole line, without a number");
  if (typed && state.packs == 0) return tell(true, row, "State", "0 packs: expected 1 or more");
  if (arrived && back)
    return tell(true, row, "Came back", "money came back for what has arrived; which is it? Leave one empty");
  std::replace(state.word.begin(), state.word.end(), ' ', '-');
  to_.said.push_back(
      {row.sheet, row.place(typed ? "State" : "Came back"),
       SaidState{std::atoll(row.key.c_str() + 5), named_in_log(row.key), state.word, state.packs, back, on},
       on ? row.place("State on") : ""});
}

void Tellings::read_unfinished(const KeyedRow& row, const std::string& state,
                               std::optional<std::int64_t> minutes, std::optional<budgets::Date> on) {
  const std::string key = row.key.substr(row.key.find(':') + 1);
  const build::Id job = key.substr(0, key.rfind('@'));
  const bool begun = state == kBegun, given_up = state == kGivenUp;
  if (!begun && !given_up)
    return tell(true, row, "State", fmt::format("found '{}', expected {} or {}", state, kBegun, kGivenUp));
  if (begun && !minutes)
    return tell(true, row, "Hours taken", "the hours are missing that went into what is begun");
  if (given_up && minutes)
    return tell(true, row, "Hours taken", "hours went into what is given up; record them as begun first");
  to_.said.push_back(
      {row.sheet, row.place("State"), SaidUnfinished{job, minutes, on}, on ? row.place("Done on") : ""});
}

}  // namespace fettlefund::sheets
