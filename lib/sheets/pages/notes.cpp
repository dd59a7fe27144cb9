#include "lib/outcome/full_cautions.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { text, source, count };

const std::vector<std::string>& how_to_use() {
  static const std::vector<std::string> lines = {
      "Yellow cells are for typing, and what is typed there is recorded when the workbook is handed back, or "
      "told with its cell. All others are locked without a password, so that no formula is lost by a slip.",
      "Shopping: type what one line really cost under Paid. It then counts instead of the planned amount, "
      "and every "
      "later reserve on Overview moves with it. An empty Paid cell means: as planned. 0 means: it cost "
      "nothing.",
      "A changed price or number of packs changes the planned amounts, the allowance and every later "
      "reserve. The "
      "stages of the jobs do not move by themselves: the plan has to be made again for that.",
      "Bought something that is not on the list? Write it into the last lines of Shopping with the stage "
      "whose "
      "payday paid it.",
      "Money in on Overview is income and dated money by the build file, and of stages gone by what else "
      "came "
      "or went. Where the cash is another than Left says, count it and type it under Cash counted, with the "
      "day: the difference is recorded and shown.",
      "Stages gone by stay: what was planned and paid in them, what was bought with what became of it, and "
      "the "
      "jobs done. All of it is white, since it is recorded already.",
      "Left is what was left before, and Money in, less Counts. Where it falls below Keep-back, Check says "
      "so.",
      "A tick is an x. It changes no sum: a planned line counts whether it is ticked or not. A day changes "
      "no "
      "sum either.",
      "On Overview the number of a stage leads to its shopping and its bench date to its work; the bands "
      "there "
      "lead back.",
      "Colours are those of M. Okabe and K. Ito, Color Universal Design: How to make figures and "
      "presentations "
      "that are friendly to colorblind people (2008), and tints of them; no colour stands without a word or "
      "a "
      "pattern."};
  return lines;
}

const std::vector<std::string>& how_to_hand_back() {
  static const std::vector<std::string> lines = {
      "Save the workbook as xlsx and give it to whoever keeps the build file. There, fettlefund record BUILD "
      "--from FILE.xlsx writes down what was typed; with --dry-run behind it, it only shows that.",
      "Read back are: in Shopping the ticks, Paid, Packs and Price of what is bought, Bought on, Arrives, "
      "Your "
      "remark and the lines besides the plan; in Easily forgotten the ticks and what is paid there; in Jobs "
      "the ticks, Done on, Hours taken, Your remark; in Work order and Tools the ticks and Your remark; on "
      "Overview Cash counted, taken as counted after all else that is typed.",
      "Of what was bought before, State says what became of it: arrived, sent back, never came, broken or "
      "lost, "
      "with a number before it where it is not all of it (1 sent back); Came back is money for it. Of a job, "
      "State "
      "says begun, with the hours that went into it under Hours taken, or given up.",
      "A line counts as bought when it is ticked or has an amount under Paid. Without an amount it is taken "
      "as "
      "planned, without a day as of the day of the recording. A job counts as done when it is ticked in "
      "Jobs.",
      "Amounts may be typed as numbers, as texts with a point or a comma, or as formulas. What could be read "
      "in "
      "two ways is asked about and not guessed, with sheet and cell, and nothing is recorded before it is "
      "put "
      "right.",
      "Lines are known by the hidden column Key, and columns by their headings: rows may be inserted, "
      "columns "
      "moved. Leave both, and the hidden sheet Plan record, as they are. Shopping may be "
      "sorted and filtered: its totals find their lines by stage and supplier.",
      "Something typed beside an article, job, supplier or stage that is not the key's is asked about, and "
      "so "
      "are amounts and hours far from the plan: typed as a text with its unit (120 EUR, 0.5 h) a figure is "
      "taken as it is. Comments may be written; they are told and not recorded.",
      "Two people may fill in a copy each and hand both back, in any order: the same line is recorded once, "
      "and two different amounts for it are asked about. Lines besides the plan are known by what they say.",
      "A changed price or number of packs of what is not bought is for trying out; it is told and not "
      "recorded. The same workbook may be handed back again and again: what is recorded already is not "
      "recorded "
      "twice."};
  return lines;
}

std::vector<std::string> units(const Outcome& outcome) {
  const auto& build = *outcome.build;
  return {
      fmt::format(
          "Money: {}, with {} decimals. Dates: year-month-day. Hours: decimal, 1.5 is an hour and a half.",
          build.currency.code, build.currency.digits),
      "Keep-back: cash that must stay after a payday, together with bills dated before the next payday.",
      "Want-month: one point of want enjoyed for one month of 30.4375 days; the measure of a good plan."};
}

/// Writes sections one below the other.
class Notes {
 public:
  Notes(Book& book, const Outcome& outcome)
      : book_(book),
        outcome_(outcome),
        sheet_(begin_sheet("Notes", "Notes",
                           "How this workbook is meant, what the plan takes for granted, and care.",
                           {{"What", 84, 84}, {"Source", 36, 36}})) {}

  void fill() {
    if (!outcome_.build->about.empty()) add("About this build", {outcome_.build->about});
    add("How to use this workbook", how_to_use());
    add("How to hand it back", how_to_hand_back());
    add("Units and words", units(outcome_));
    add("So far", outcome_.so_far);
    std::vector<std::string> moves;
    for (const planning::Move& move : outcome_.moves) moves.push_back(planning::move_text(move));
    add("Moved since it was agreed", moves);
    add("What the plan takes for granted", outcome_.assumptions);
    add_cautions();
    book_.sheets.push_back(std::move(sheet_));
  }

 private:
  void add(const std::string& heading, const std::vector<std::string>& lines) {
    if (lines.empty()) return;
    put_band(sheet_, row_++, count, heading);
    for (const std::string& line : lines) {
      sheet_.put(row_, text, line);
      sheet_.await(row_++, source, Shown::text, Look::body);
    }
  }

  void add_cautions() {
    const auto cautions = planning::cautions_in_full(outcome_);
    if (cautions.empty()) return;
    put_band(sheet_, row_++, count, "Take care");
    for (const auto& [caution, stages] : cautions) {
      sheet_.put(row_, text, planning::with_stages(caution.text, stages), Look::care);
      sheet_.put(row_++, source, caution.source, Look::care);
    }
  }

  Book& book_;
  const Outcome& outcome_;
  Sheet sheet_;
  int row_ = kHeaderRow + 1;
};

}  // namespace

void add_notes(Book& book, const Outcome& outcome) { Notes(book, outcome).fill(); }

}  // namespace fettlefund::sheets
