#include "lib/report/files/calendar.hpp"

#include <algorithm>
#include <cstdint>

#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"
#include "lib/text/columns.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::Outcome;
using planning::StageView;

constexpr std::size_t most_octets = 75;

/// FNV-1a, 64 bits: tells builds apart by their names.
std::uint64_t hash_of(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3;
  return hash;
}

std::string plain_date(budgets::Date day) {
  std::string text = budgets::write_date(day);
  std::erase(text, '-');
  return text;
}

/// Lines of a description.
class Description {
 public:
  void line(std::string_view text) { (all_ += all_.empty() ? "" : "\n") += text; }
  void item(std::string_view text) { line("- " + std::string(text)); }
  const std::string& text() const { return all_; }

 private:
  std::string all_;
};

struct Event {
  std::string what;  ///< "payday", "bench" or "session-20270302": of the event's name
  budgets::Date day;
  std::string summary, description;
  bool busy = false;
};

class Writer {
 public:
  Writer(const Outcome& outcome, const CalendarOptions& options) : outcome_(outcome), options_(options) {}

  std::string whole() {
    for (const char* line : {"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Fettlefund//Staged build plan//EN",
                             "CALSCALE:GREGORIAN"}) {
      put(line);
    }
    put("NAME:" + calendar_text(outcome_.build->name));
    for (const StageView& stage : outcome_.stages) {
      put(stage, payday(stage));
      if (!stage.by_sessions) put(stage, bench(stage));
      for (std::size_t s = 0; s < stage.sessions.size(); ++s) put(stage, session(stage, s));
    }
    put("END:VCALENDAR");
    return std::move(all_);
  }

 private:
  void put(std::string_view line) { all_ += folded(line); }

  void put(const StageView& stage, const Event& event) {
    put("BEGIN:VEVENT");
    put(fmt::format("UID:stage-{}-{}-{:016x}@fettlefund", stage.number, event.what,
                    hash_of(outcome_.build->name)));
    put("DTSTAMP:" + plain_date(outcome_.stages.front().payday) + "T000000Z");
    put(fmt::format("SEQUENCE:{}", options_.revision));
    put("DTSTART;VALUE=DATE:" + plain_date(event.day));
    put("DTEND;VALUE=DATE:" + plain_date(event.day + 1));
    put("SUMMARY:" + calendar_text(event.summary));
    if (!event.description.empty()) put("DESCRIPTION:" + calendar_text(event.description));
    put(event.what == "payday" ? "CATEGORIES:Payday" : "CATEGORIES:Bench");
    put(event.busy ? "TRANSP:OPAQUE" : "TRANSP:TRANSPARENT");
    put("END:VEVENT");
  }

  std::string money(budgets::Money amount) const { return planning::money_text(*outcome_.build, amount); }

  std::string line_text(const StageView& stage, const planning::ShoppingLine& line) const {
    std::string text = fmt::format("{} x {}, {}", line.packs, text::printable(line.name), money(line.amount));
    if (line.for_stage + 1 != stage.number) text += fmt::format(", for stage {}", line.for_stage + 1);
    if (line.last_order_day) {
      text += fmt::format(", last day to order {}", budgets::write_date(*line.last_order_day));
    }
    if (!line.reason.empty()) text += "; easily forgotten: " + text::printable(line.reason);
    return text;
  }

  void add_orders(Description& text, const StageView& stage) const {
    for (const planning::OrderView& order : stage.orders) {
      const bool free = order.delivery == budgets::Money();
      text.line(fmt::format("{}: goods {}, {}", text::printable(order.supplier_name), money(order.goods),
                            free ? "no delivery charge" : "delivery " + money(order.delivery)));
      for (const auto& line : order.lines) text.item(line_text(stage, line));
    }
    for (const auto& hire : stage.hires) {
      text.line(fmt::format("Hire: {}, {}", text::printable(hire.name), money(hire.amount)));
    }
    for (const auto& fee : stage.fee_lines) {
      text.line(fmt::format("Fee: {}, {}", text::printable(fee.name), money(fee.amount)));
    }
    if (stage.allowance > budgets::Money()) text.line("For the unforeseen: " + money(stage.allowance));
  }

  Event payday(const StageView& stage) const {
    std::vector<std::string> suppliers;
    for (const auto& order : stage.orders) suppliers.push_back(text::printable(order.supplier_name));
    const bool spends = stage.spent > budgets::Money();
    std::string todo = "nothing to order";
    if (!suppliers.empty()) {
      todo = "order from " + planning::list_text(suppliers);
    } else if (spends) {
      todo = "nothing to order, fees and hire to pay";
    }
    Description text;
    add_orders(text, stage);
    text.line(fmt::format("Spent: {}. Left: {}, of which {} must stay.", money(stage.spent),
                          money(stage.cash_after), money(stage.floor)));
    return {"payday", stage.payday, fmt::format("Stage {} payday: {}", stage.number, todo), text.text(),
            false};
  }

  static void add_bench(Description& text, const StageView& stage) {
    for (const auto& job : stage.jobs) {
      text.item(fmt::format("{}, {}{}", text::printable(job.name), planning::hours_text(job.minutes),
                            job.must ? ", must" : ""));
    }
    if (!stage.removals.empty()) text.line("Comes off and goes back on:");
    for (const auto& removal : stage.removals) {
      text.item(fmt::format("{}, {}", text::printable(removal.name), planning::hours_text(removal.minutes)));
    }
    add_reminders(text, stage);
  }

  /// Each thing once, however many jobs need it.
  static void add_reminders(Description& text, const StageView& stage) {
    std::vector<std::string> told;
    for (const auto& reminder : stage.reminders) {
      std::string item =
          fmt::format("{}: {}", text::printable(reminder.article), text::printable(reminder.why));
      if (std::find(told.begin(), told.end(), item) == told.end()) told.push_back(std::move(item));
    }
    if (!told.empty()) text.line("Easily forgotten:");
    for (const std::string& item : told) text.item(item);
  }

  /// Of the steps from one number to another.
  static void add_helper(Description& text, const StageView& stage, int first, int last) {
    for (const auto& step : stage.work) {
      if (!step.helper || step.number < first || step.number > last) continue;
      text.line("A second person is needed for some steps.");
      break;
    }
  }

  static void add_care(Description& text, const StageView& stage) {
    if (!stage.cautions.empty()) text.line("Take care:");
    for (const auto& caution : stage.cautions) text.item(text::printable(caution.text));
  }

  static Event bench(const StageView& stage) {
    std::vector<std::string> jobs;
    for (const auto& job : stage.jobs) jobs.push_back(text::printable(job.name));
    std::string todo = "no work";
    if (!jobs.empty()) {
      todo = fmt::format("{} ({})", planning::list_text(jobs), planning::hours_text(stage.minutes_used));
    }
    Description text;
    add_bench(text, stage);
    if (!stage.bench_note.empty()) {
      text.line(fmt::format("Bench time {}: {}", planning::hours_text(stage.minutes_limit),
                            text::printable(stage.bench_note)));
    }
    add_helper(text, stage, 1, static_cast<int>(stage.work.size()));
    add_care(text, stage);
    return {"bench", stage.bench, fmt::format("Stage {} bench day: {}", stage.number, todo), text.text(),
            !jobs.empty()};
  }

  /// The steps of one evening; what is to be laid out and minded stands at the first that has work.
  static Event session(const StageView& stage, std::size_t at) {
    const planning::SessionView& session = stage.sessions[at];
    const std::string name =
        fmt::format("Stage {} session {} of {}: ", stage.number, at + 1, stage.sessions.size());
    const std::string what = "session-" + plain_date(session.date);
    if (session.last_step == 0) return {what, session.date, name + "no work", "", false};
    std::vector<std::string> jobs;
    for (const std::string& job : session.jobs) jobs.push_back(text::printable(job));
    Description text;
    text.line(text::printable(planning::session_text(session)));
    for (int step = session.first_step; step <= session.last_step; ++step) {
      const planning::WorkStep& work = stage.work[static_cast<std::size_t>(step) - 1];
      text.item(fmt::format("{}. {}", step, text::printable(work.text)));
    }
    for (const std::string& line : planning::overnight_texts(session)) text.line(text::printable(line));
    add_helper(text, stage, session.first_step, session.last_step);
    if (is_first(stage, at)) {
      add_reminders(text, stage);
      add_care(text, stage);
    }
    return {what, session.date,
            fmt::format("{}{} ({})", name, planning::list_text(jobs), planning::hours_text(session.used)),
            text.text(), true};
  }

  static bool is_first(const StageView& stage, std::size_t at) {
    for (std::size_t s = 0; s < at; ++s) {
      if (stage.sessions[s].last_step > 0) return false;
    }
    return true;
  }

  const Outcome& outcome_;
  CalendarOptions options_;
  std::string all_;
};

}  // namespace

std::string calendar_text(std::string_view text) {
  std::string safe;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    if (at > 0) safe += "\\n";
    for (const char c : text::printable(text.substr(at, end - at))) {
      if (c == '\\' || c == ';' || c == ',') safe += '\\';
      safe += c;
    }
    at = end + 1;
  }
  return safe;
}

std::string folded(std::string_view line) {
  std::string all;
  std::size_t room = most_octets;
  while (true) {
    const std::size_t take = text::whole_characters(line, room);
    (all += line.substr(0, take)) += "\r\n";
    line.remove_prefix(take);
    if (line.empty()) return all;
    all += ' ';
    room = most_octets - 1;
  }
}

std::string calendar(const planning::Outcome& outcome, const CalendarOptions& options) {
  return Writer(outcome, options).whole();
}

}  // namespace fettlefund::report
