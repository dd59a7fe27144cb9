#include "lib/progress/history.hpp"

#include <algorithm>
#include <charconv>
#include <set>

#include "lib/staging/ids.hpp"
#include "lib/text/nearest.hpp"

namespace fettlefund::planning {
namespace {

/// "4" or "4#rule" to 4; 0 if it is neither.
int stage_of(std::string_view text) {
  if (text.ends_with("#rule")) text.remove_suffix(5);
  int stage = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), stage);
  return error == std::errc() && end == text.data() + text.size() && stage > 0 ? stage : 0;
}

ShoppingKey::Kind kind_of(std::string_view prefix) {
  if (prefix == "delivery") return ShoppingKey::Kind::delivery;
  if (prefix == "hire") return ShoppingKey::Kind::hire;
  if (prefix == "fee") return ShoppingKey::Kind::fee;
  return ShoppingKey::Kind::other;
}

template <class List>
void sort_by_day(List& list) {
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.date < b.date; });
}

/// Takes entries in the order of the log.
class Historian {
 public:
  void add(const log::Entry& entry) {
    date_ = entry.date;
    number_ = entry.number;
    std::visit(*this, entry.event);
    ++history_.counted;
  }

  void operator()(const log::Bought& one) {
    history_.bought.push_back({one.key,
                               read_key(one.key),
                               one.packs,
                               one.paid,
                               date_,
                               number_,
                               one.arrives.value_or(date_),
                               one.supplier,
                               one.rest,
                               one.rest_on.value_or(one.arrives.value_or(date_)),
                               one.packs,
                               {},
                               false,
                               {},
                               one.rest});
  }
  void operator()(const log::Paid& one) {
    Money rest = one.amount;
    for (Bought& bought : history_.bought) {
      if (bought.key != one.key) continue;
      history_.corrections.push_back({bought.date, date_, bought.number, number_, rest - bought.paid});
      bought.paid = rest;
      rest = Money();
    }
  }
  void operator()(const log::Fitted& one) {
    if (fitted_.insert(one.job).second) history_.done.push_back({one.job, date_, one.minutes});
  }
  void operator()(const log::Counted& one) {
    if (!history_.count || history_.count->date <= date_) history_.count = Count{date_, number_, one.cash};
  }
  void operator()(const log::AgreedPlan& one) {
    history_.agreed = one.jobs;
    history_.agreed_on = date_;
  }
  void operator()(const log::Remark&) {}
  void operator()(const log::Undo&) {}
  void operator()(const log::Moved& one) { history_.moved.push_back({date_, number_, one.amount, one.text}); }

  void operator()(const log::Balance& one) {
    Money paid = one.amount;
    for (Bought& bought : history_.bought) {
      if (bought.key != one.key) continue;
      bought.settled += paid;
      if (bought.rest > Money()) bought.rest_in_all = paid;
      bought.rest = paid = Money();
    }
    if (one.amount > Money())
      history_.moved.push_back({date_, number_, Money() - one.amount, "the rest of " + one.key});
  }
  void operator()(const log::Gone& one) {
    std::int64_t packs = one.packs;
    if (!one.key.empty())
      packs = take(one, packs, [&](const Bought& bought) { return bought.key == one.key; });
    packs = take(one, packs, [](const Bought&) { return true; });
    if (packs > 0) history_.gone.push_back({one.article, packs});
    if (one.back > Money()) history_.moved.push_back({date_, number_, one.back, one.how + " " + one.article});
  }
  void operator()(const log::Arrives& one) {
    for (Bought& bought : history_.bought) {
      if (bought.key != one.key) continue;
      bought.arrives = one.on;
      bought.came = one.on <= date_;
    }
  }
  /// Packs of the article that are gone, from what is `meant`: what came last goes first; of what is on its
  /// way nothing comes any more. The packs that are left over.
  template <class Meant>
  std::int64_t take(const log::Gone& one, std::int64_t packs, Meant meant) {
    for (std::size_t i = history_.bought.size(); i > 0 && packs > 0; --i) {
      Bought& bought = history_.bought[i - 1];
      if (bought.what.kind != ShoppingKey::Kind::article || bought.what.id != one.article || !meant(bought))
        continue;
      const std::int64_t taken = std::min(packs, bought.packs);
      if (taken > 0) bought.gone.emplace_back(one.how, taken);
      bought.packs -= taken;
      packs -= taken;
      if (bought.packs > 0) continue;
      bought.arrives = bought.date;
      bought.rest = Money();
    }
    return packs;
  }
  void operator()(const log::Begun& one) {
    history_.begun.push_back({one.job, date_, one.minutes, one.rest});
  }
  void operator()(const log::GivenUp& one) { history_.given_up.push_back({one.job, date_}); }

  History finish() {
    sort_by_day(history_.bought);
    sort_by_day(history_.done);
    return std::move(history_);
  }

  void skip() { ++history_.later; }

 private:
  History history_;
  std::set<build::Id> fitted_;
  Date date_;
  std::int64_t number_ = 0;
};

/// Collects what an entry names that the build does not have.
class LogCheck {
 public:
  LogCheck(const build::Build& build, const log::Log& log) : build_(build), log_(log) {}

  std::vector<build::Diagnostic> run() {
    if (log_.currency.code != build_.currency.code) {
      tell(build::Severity::error, 1, std::string(log_.currency.code),
           "amounts in " + std::string(build_.currency.code) + ", as the build has");
    }
    const std::vector<bool> counts = log::effective(log_);
    for (std::size_t i = 0; i < log_.entries.size(); ++i) {
      line_ = static_cast<int>(i) + 2;
      if (counts[i]) std::visit(*this, log_.entries[i].event);
    }
    return std::move(found_);
  }

  void operator()(const log::Bought& one) {
    bought_.insert(one.key);
    const ShoppingKey key = read_key(one.key);
    using Kind = ShoppingKey::Kind;
    if (key.kind == Kind::article || key.kind == Kind::hire) look(build_.articles, key.id, "an article");
    if (key.kind == Kind::delivery) look(build_.suppliers, key.id, "a supplier");
    if (key.kind == Kind::fee) look(build_.jobs, key.id, "a job");
  }
  void operator()(const log::Paid& one) {
    if (bought_.count(one.key) == 0) warn(one.key, "the key of something bought before");
  }
  void operator()(const log::Fitted& one) {
    look(build_.jobs, one.job, "a job");
    if (!fitted_.insert(one.job).second) warn(one.job, "a job that is not fitted already");
  }
  void operator()(const log::Counted&) {}
  void operator()(const log::AgreedPlan& one) {
    for (const build::Agreed& agreed : one.jobs) look(build_.jobs, agreed.job, "a job");
  }
  void operator()(const log::Remark&) {}
  void operator()(const log::Undo&) {}
  void operator()(const log::Moved&) {}
  void operator()(const log::Balance& one) {
    if (bought_.count(one.key) == 0) warn(one.key, "the key of something bought before");
  }
  void operator()(const log::Arrives& one) {
    if (bought_.count(one.key) == 0) warn(one.key, "the key of something bought before");
  }
  void operator()(const log::Gone& one) { look(build_.articles, one.article, "an article"); }
  void operator()(const log::Begun& one) { look(build_.jobs, one.job, "a job"); }
  void operator()(const log::GivenUp& one) { look(build_.jobs, one.job, "a job"); }

 private:
  template <class Entries>
  void look(const Entries& entries, const build::Id& id, const std::string& what) {
    if (find_id(entries, id) >= 0) return;
    std::vector<std::string> names;
    for (const auto& entry : entries) names.push_back(entry.id);
    tell(build::Severity::warning, line_, id, what + " of the build",
         text::nearest_name(id, text::Names(std::move(names))));
  }
  void warn(const std::string& found, const std::string& expected) {
    tell(build::Severity::warning, line_, found, expected);
  }
  void tell(build::Severity severity, int line, const std::string& found, const std::string& expected,
            const std::string& nearest = {}) {
    found_.push_back({severity, log_.file, {line, 1}, {}, found, expected, nearest});
  }

  const build::Build& build_;
  const log::Log& log_;
  int line_ = 0;
  std::set<std::string> bought_;
  std::set<build::Id> fitted_;
  std::vector<build::Diagnostic> found_;
};

}  // namespace

std::vector<build::Diagnostic> check_log(const build::Build& build, const log::Log& log) {
  return LogCheck(build, log).run();
}

ShoppingKey read_key(const std::string& key) {
  const std::size_t at = key.find('@');
  if (at == std::string::npos || key.find('@', at + 1) != std::string::npos) return {};
  const int stage = stage_of(std::string_view(key).substr(at + 1));
  if (stage == 0) return {};
  const std::size_t colon = key.find(':');
  if (colon == std::string::npos) return {ShoppingKey::Kind::article, key.substr(0, at), stage};
  const ShoppingKey::Kind kind = kind_of(std::string_view(key).substr(0, colon));
  if (colon > at || kind == ShoppingKey::Kind::other) return {};
  return {kind, key.substr(colon + 1, at - colon - 1), stage};
}

History history_of(const log::Log& log, Date day) {
  const std::vector<bool> counts = log::effective(log);
  Historian historian;
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    if (!counts[i]) continue;
    if (log.entries[i].date > day) {
      historian.skip();
    } else {
      historian.add(log.entries[i]);
    }
  }
  History history = historian.finish();
  history.brought = brought_up_to(log, day);
  if (history.count) history.brought_at_count = brought_up_to(log, history.count->date);
  for (const log::Entry& entry : log.entries) {
    if (entry.purse_brought && entry.date <= day)
      history.purse_brought.push_back({entry.date, *entry.purse_brought});
  }
  return history;
}

std::optional<Brought> brought_up_to(const log::Log& log, Date day) {
  std::optional<Brought> latest;
  for (const log::Entry& entry : log.entries) {
    if (!entry.brought || entry.date > day || (latest && latest->date > entry.date)) continue;
    latest = Brought{entry.date, *entry.brought};
  }
  return latest;
}

std::optional<Date> last_day(const log::Log& log) {
  const std::vector<bool> counts = log::effective(log);
  std::optional<Date> last;
  for (std::size_t i = 0; i < log.entries.size(); ++i) {
    if (counts[i] && (!last || log.entries[i].date > *last)) last = log.entries[i].date;
  }
  return last;
}

}  // namespace fettlefund::planning
