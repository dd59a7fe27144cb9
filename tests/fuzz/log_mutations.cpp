#include <algorithm>
#include <cstdio>
#include <variant>

#include "lib/build/read/read.hpp"
#include "lib/log/checksum.hpp"
#include "lib/log/read.hpp"
#include "lib/progress/history.hpp"
#include "lib/progress/replan.hpp"
#include "lib/progress/year.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/fuzz/through.hpp"
#include "tests/lib/support/log_fixture.hpp"

// Records of invented events, half of them changed afterwards, through reading, the books and planning of
// what is left. See README.md.
//   log_mutations FIRST LAST [--show]

namespace {

using namespace fettlefund;
using budgets::Date;
using budgets::Money;

/// A build and what can be recorded of it.
struct Subject {
  build::Build build;
  std::vector<std::string> keys;  ///< of what its plan buys
  std::vector<build::Id> jobs, goods, suppliers;
};

Subject subject_of(const std::string& text) {
  const build::Reading reading = build::read(text, "legal.build");
  if (!reading.build) throw std::runtime_error("no build to begin with");
  Subject subject{*reading.build, {}, {}, {}, {}};
  const planning::Planning planned = planning::plan(subject.build, test::bounded_options());
  if (const auto* outcome = std::get_if<planning::Outcome>(&planned)) {
    for (const planning::StageView& stage : outcome->stages) {
      for (const planning::OrderView& order : stage.orders) {
        for (const planning::ShoppingLine& line : order.lines) subject.keys.push_back(line.key);
      }
    }
  }
  for (const build::Job& job : subject.build.jobs) subject.jobs.push_back(job.id);
  for (const build::Article& article : subject.build.articles) subject.goods.push_back(article.id);
  for (const build::Supplier& supplier : subject.build.suppliers) subject.suppliers.push_back(supplier.id);
  return subject;
}

class Diarist {
 public:
  Diarist(const Subject& subject, std::uint64_t seed) : subject_(subject), random_(seed) {
    day_ = planning::to_staging(subject.build).calendar.first_payday;
  }

  std::string text() {
    std::vector<log::NewEntry> entries;
    for (int n = random_.between(1, 14); n > 0; --n) {
      day_ = day_ + random_.below(25);
      entries.push_back({day_, event(static_cast<int>(entries.size())), {}});
    }
    log::Log log = test::log_of(entries);
    log.currency = subject_.build.currency;
    std::string all = test::text_of(log);
    return random_.chance(50) ? all : changed(std::move(all));
  }

 private:
  template <class List>
  const typename List::value_type& any(const List& list) {
    return list[static_cast<std::size_t>(random_.below(static_cast<int>(list.size())))];
  }

  Money amount() { return Money::of_minor(random_.below(40'000)); }

  log::Event event(int number) {
    switch (random_.below(12)) {
      case 0:
        return log::Fitted{any(subject_.jobs), random_.chance(50)
                                                   ? std::optional<std::int64_t>(random_.below(600))
                                                   : std::nullopt};
      case 1:
        return log::Counted{amount()};
      case 2:
        return log::Moved{Money::of_minor(random_.between(-9'000, 9'000) | 1), "sold or lost"};
      case 3:
        return log::Gone{any(subject_.goods), random_.between(1, 3), any(log::ways_to_go()), amount()};
      case 4:
        return log::Begun{any(subject_.jobs), random_.between(1, 300), random_.below(300)};
      case 5:
        return log::GivenUp{any(subject_.jobs)};
      case 6:
        if (number > 0) return log::Undo{random_.between(1, number)};
        [[fallthrough]];
      case 7:
        return log::Remark{"", "as it came"};
      case 8:
        if (!subject_.keys.empty()) return log::Paid{any(subject_.keys), amount()};
        [[fallthrough]];
      default:
        return bought();
    }
  }

  log::Event bought() {
    log::Bought bought;
    bought.key = subject_.keys.empty() ? any(subject_.goods) + "@1" : any(subject_.keys);
    bought.packs = random_.between(1, 4);
    bought.paid = amount();
    if (random_.chance(50)) bought.arrives = day_ + random_.below(40);
    if (random_.chance(50) && !subject_.suppliers.empty()) bought.supplier = any(subject_.suppliers);
    if (random_.chance(15)) bought.rest = amount();
    return bought;
  }

  /// Another line, field or character; the checksum is often made right again.
  std::string changed(std::string all) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < all.size();) {
      const std::size_t end = all.find('\n', at);
      lines.push_back(all.substr(at, end - at));
      at = end + 1;
    }
    std::string& line = lines[static_cast<std::size_t>(random_.below(static_cast<int>(lines.size())))];
    switch (random_.below(5)) {
      case 0:
        line = any(lines);
        break;
      case 1:
        line.resize(static_cast<std::size_t>(random_.below(static_cast<int>(line.size()) + 1)));
        break;
      case 2:
        return all.substr(0, static_cast<std::size_t>(random_.below(static_cast<int>(all.size()))));
      default:
        retype(line);
    }
    std::string joined;
    for (const std::string& one : lines) joined += one + "\n";
    return joined;
  }

  void retype(std::string& line) {
    const std::size_t sum = line.rfind('\t');
    if (sum == std::string::npos || sum == 0) return;
    const std::string odd = "0123456789-.\t@x";
    std::string body = line.substr(0, sum);
    body[static_cast<std::size_t>(random_.below(static_cast<int>(body.size())))] =
        odd[static_cast<std::size_t>(random_.below(static_cast<int>(odd.size())))];
    line = random_.chance(80) ? body + "\t" + log::checksum(body) : body + line.substr(sum);
  }

  const Subject& subject_;
  testing::Random random_;
  Date day_;
};

std::string books(const Subject& subject, const std::string& text) {
  log::Reading reading = log::read(text, "mutated.record");
  if (reading.log && build::has_errors(reading.diagnostics)) throw test::Broken("a log with errors");
  if (!reading.log && reading.diagnostics.empty() && !text.empty())
    throw test::Broken("neither a log nor a word why");
  if (!reading.log) return "refused by the reader";
  if (build::has_errors(planning::check_log(subject.build, *reading.log))) return "refused by the books";
  const std::optional<Date> last = planning::last_day(*reading.log);
  if (!last) return "empty";
  const planning::Year year = planning::year_of(subject.build, *reading.log, *last);
  if (year.brought + year.moved_in - year.moved_out - year.paid + year.unexplained != year.cash)
    throw test::Broken("the year does not add up");
  const planning::Standing standing = planning::stand_on(subject.build, *reading.log, *last, 10);
  if (!standing.build) return "every stage is over";
  const planning::Planning planned = planning::replan(standing, test::bounded_options());
  if (std::holds_alternative<planning::Conflict>(planned)) return "impossible";
  if (std::holds_alternative<planning::NoPlan>(planned)) return "stopped";
  test::put_out(std::get<planning::Outcome>(planned), *reading.log);
  return "planned and put out";
}

}  // namespace

int main(int count, char** words) {
  std::uint64_t first = 0, last = 0;
  if (!test::read_seeds(count, words, first, last)) return 2;
  std::vector<Subject> subjects;
  for (const std::string& text : test::legal_builds()) subjects.push_back(subject_of(text));
  const auto record = [&](std::uint64_t seed) {
    return Diarist(subjects[seed % subjects.size()], seed).text();
  };
  if (count > 3) return std::puts(record(first).c_str()), 0;
  return test::run_seeds(
      first, last, [&](std::uint64_t seed) { return books(subjects[seed % subjects.size()], record(seed)); });
}
