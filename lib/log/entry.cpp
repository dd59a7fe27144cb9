#include "lib/log/entry.hpp"

#include <algorithm>
#include <filesystem>

#include "lib/build/json/values.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::log {
namespace {

bool in_range(Money amount) { return amount.minor() <= most_minor && amount.minor() >= -most_minor; }

bool is_key(std::string_view key) {
  return !key.empty() && key.size() <= longest_key && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           std::string_view("-@#:.").find(c) != std::string_view::npos;
  });
}

constexpr const char* key_words = "a key of letters, digits and -@#:. of at most 200 bytes";
constexpr const char* money_words = "an amount of at most 10^12 of the smallest coin";

bool has_controls(std::string_view text) {
  while (!text.empty()) {
    const std::size_t length = text::character_length(text);
    const bool breaks = text.front() == '\n' || text.front() == '\t' || text.front() == '\r';
    if (!breaks && text::starts_with_control(text)) return true;
    text.remove_prefix(length);
  }
  return false;
}

struct FaultFinder {
  std::string operator()(const Bought& one) const {
    if (!is_key(one.key)) return key_words;
    if (one.packs < 1 || one.packs > most_packs) return fmt::format("1 to {} packs", most_packs);
    if (!one.supplier.empty() && !build::is_id(one.supplier)) return "a supplier's id: " + build::id_words();
    return in_range(one.paid) && in_range(one.rest) && one.rest >= Money() ? "" : money_words;
  }
  std::string operator()(const Balance& one) const {
    if (!is_key(one.key)) return key_words;
    return in_range(one.amount) && one.amount >= Money() ? "" : money_words;
  }
  std::string operator()(const Gone& one) const {
    if (!build::is_id(one.article)) return "an article's id: " + build::id_words();
    if (one.packs < 1 || one.packs > most_packs) return fmt::format("1 to {} packs", most_packs);
    const auto& ways = ways_to_go();
    if (std::find(ways.begin(), ways.end(), one.how) == ways.end())
      return fmt::format("one of {}", fmt::join(ways, ", "));
    if (!one.key.empty() && !is_key(one.key)) return key_words;
    return in_range(one.back) && one.back >= Money() ? "" : money_words;
  }
  std::string operator()(const Begun& one) const {
    const bool good = one.minutes >= 0 && one.minutes <= most_minutes && one.rest.value_or(0) >= 0 &&
                      one.rest.value_or(0) <= most_minutes;
    if (!good) return fmt::format("at most {} minutes", most_minutes);
    return (*this)(GivenUp{one.job});
  }
  std::string operator()(const Arrives& one) const { return is_key(one.key) ? "" : key_words; }
  std::string operator()(const GivenUp& one) const {
    return build::is_id(one.job) ? "" : "a job's id: " + build::id_words();
  }
  std::string operator()(const Paid& one) const {
    if (!is_key(one.key)) return key_words;
    return in_range(one.amount) ? "" : money_words;
  }
  std::string operator()(const Fitted& one) const {
    if (!build::is_id(one.job)) return "a job's id: " + build::id_words();
    const bool good = !one.minutes || (*one.minutes >= 0 && *one.minutes <= most_minutes);
    return good ? "" : fmt::format("at most {} minutes", most_minutes);
  }
  std::string operator()(const Counted& one) const { return in_range(one.cash) ? "" : money_words; }
  std::string operator()(const AgreedPlan& one) const {
    if (one.jobs.empty()) return "at least one job";
    std::vector<Id> ids;
    for (const build::Agreed& agreed : one.jobs) ids.push_back(agreed.job);
    std::sort(ids.begin(), ids.end());
    if (!std::all_of(ids.begin(), ids.end(), build::is_id)) return "jobs' ids: " + build::id_words();
    return std::adjacent_find(ids.begin(), ids.end()) == ids.end() ? "" : "each job once";
  }
  std::string operator()(const Remark& one) const {
    if (!one.about.empty() && !is_key(one.about)) return key_words;
    if (one.text.empty()) return "a remark that is not empty";
    if (text::find_bad_utf8(one.text) != one.text.size()) return "a remark in UTF-8";
    if (has_controls(one.text)) return "a remark without control characters";
    const bool fits = text::count_characters(one.text) <= longest_remark;
    return fits ? "" : fmt::format("a remark of at most {} characters", longest_remark);
  }
  std::string operator()(const Undo& one) const { return one.entry > 0 ? "" : "the number of an entry"; }
  std::string operator()(const Moved& one) const {
    if (one.amount == Money()) return "an amount other than nothing";
    if (!in_range(one.amount)) return money_words;
    return (*this)(Remark{"", one.text});
  }
};

struct Teller {
  const budgets::Currency& currency;

  std::string money(Money amount) const {
    return fmt::format("{} {}", budgets::write_money(amount, currency), currency.code);
  }
  static std::string hours(std::int64_t minutes) {
    return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60)
                             : fmt::format("{} h {} min", minutes / 60, minutes % 60);
  }
  std::string operator()(const Bought& one) const {
    std::string text = fmt::format("bought {}, {} {}, {}", one.key, one.packs,
                                   one.packs == 1 ? "pack" : "packs", money(one.paid));
    if (one.arrives) text += ", arrives " + budgets::write_date(*one.arrives);
    if (one.rest > Money()) {
      text += fmt::format(", {} still to be paid{}", money(one.rest),
                          one.rest_on ? " on " + budgets::write_date(*one.rest_on) : "");
    }
    return text;
  }
  std::string operator()(const Balance& one) const {
    return fmt::format("paid the rest of {}: {}", one.key, money(one.amount));
  }
  std::string operator()(const Gone& one) const {
    std::string how = one.how;
    std::replace(how.begin(), how.end(), '-', ' ');
    std::string text = fmt::format("{} {} {} of {}", how, one.packs, one.packs == 1 ? "pack" : "packs",
                                   one.key.empty() ? one.article : one.key);
    if (one.back > Money()) text += fmt::format(", {} came back", money(one.back));
    return text;
  }
  std::string operator()(const Begun& one) const {
    std::string text = fmt::format("begun {}, {} so far this time", one.job, hours(one.minutes));
    if (one.rest) text += fmt::format(", {} left", hours(*one.rest));
    return text;
  }
  std::string operator()(const GivenUp& one) const { return "given up " + one.job; }
  std::string operator()(const Arrives& one) const {
    return fmt::format("{} arrives on {}", one.key, budgets::write_date(one.on));
  }
  std::string operator()(const Paid& one) const {
    return fmt::format("paid for {}: {}", one.key, money(one.amount));
  }
  std::string operator()(const Fitted& one) const {
    return one.minutes ? fmt::format("fitted {}, took {}", one.job, hours(*one.minutes))
                       : "fitted " + one.job;
  }
  std::string operator()(const Counted& one) const {
    return fmt::format("counted {} of cash", money(one.cash));
  }
  std::string operator()(const AgreedPlan& one) const {
    std::string text = fmt::format("agreed {} {}:", one.jobs.size(), one.jobs.size() == 1 ? "job" : "jobs");
    for (std::size_t i = 0; i < one.jobs.size(); ++i) {
      text += fmt::format("{} {} on {}", i == 0 ? "" : ",", one.jobs[i].job,
                          budgets::write_date(one.jobs[i].bench));
    }
    return text;
  }
  std::string operator()(const Remark& one) const {
    std::string text = one.about.empty() ? "remark: " : fmt::format("remark about {}: ", one.about);
    for (const char c : one.text) text += c == '\n' || c == '\t' || c == '\r' ? ' ' : c;
    return text;
  }
  std::string operator()(const Undo& one) const { return fmt::format("undid entry {}", one.entry); }
  std::string operator()(const Moved& one) const {
    const bool in = one.amount > Money();
    const std::string remark = (*this)(Remark{"", one.text});
    return fmt::format("{} {}: {}", in ? "came in" : "went out",
                       money(in ? one.amount : Money() - one.amount), remark.substr(remark.find(' ') + 1));
  }
};

}  // namespace

const std::vector<std::string>& ways_to_go() {
  static const std::vector<std::string> all{"sent-back", "lost", "broken", "never-came"};
  return all;
}

std::vector<bool> effective(const Log& log) {
  std::vector<bool> alive(log.entries.size(), true);
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    const auto* undo = std::get_if<Undo>(&log.entries[i].event);
    if (!undo) continue;
    alive[i] = false;
    alive[static_cast<std::size_t>(undo->entry) - 1] = false;
  }
  return alive;
}

namespace {

std::string named_after(const std::string& build_path, const char* extension) {
  const std::filesystem::path path(build_path);
  if (path.extension() == ".build" || path.extension() == ".xlsx")
    return std::filesystem::path(path).replace_extension(extension).string();
  return build_path + extension;
}

}  // namespace

std::string path_for(const std::string& build_path) { return named_after(build_path, ".record"); }

std::string older_path_for(const std::string& build_path) { return named_after(build_path, ".log"); }

std::string_view kind_of(const Event& event) {
  static constexpr std::string_view kinds[] = {"bought", "paid",     "fitted", "counted", "agreed",
                                               "remark", "undo",     "money",  "balance", "gone",
                                               "begun",  "given-up", "arrives"};
  return kinds[event.index()];
}

std::string in_words(const Event& event, const budgets::Currency& currency) {
  return std::visit(Teller{currency}, event);
}

std::string fault_of(const Event& event) { return std::visit(FaultFinder{}, event); }

std::string fault_of_name(const std::string& by) {
  if (by.find_first_not_of(' ') == std::string::npos) return by.empty() ? "" : "a name that is not blank";
  if (text::find_bad_utf8(by) != by.size()) return "a name in UTF-8";
  if (has_controls(by) || by.find_first_of("\t\n\r") != std::string::npos)
    return "a name on one line, without control characters";
  const bool fits = text::count_characters(by) <= longest_name;
  return fits ? "" : fmt::format("a name of at most {} characters", longest_name);
}

std::string by_words(const std::string& by) { return by.empty() ? "" : ", by " + by; }

}  // namespace fettlefund::log
