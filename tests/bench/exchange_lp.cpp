#include "tests/bench/exchange_lp.hpp"

#include <cstdlib>
#include <set>

// Variables, all 0 or 1 and growing with t where they say "by": y_j_t task j is done by stage t; z_k_t
// once-item k is paid by stage t; o_r_t opening r is opened in stage t; s_q_t source q is used in stage t.
// "In stage t" of a task is y_j_t - y_j_(t-1). This form gives a far tighter relaxation than variables "done
// in stage t".

namespace fettlefund::bench {
namespace {

std::string name(char letter, std::size_t index, std::size_t stage) {
  return std::string(1, letter) + "_" + std::to_string(index) + "_" + std::to_string(stage);
}

class LpWriter {
 public:
  explicit LpWriter(const Exchange& exchange) : x_(exchange), stages_(exchange.stages.size()) {}

  std::string write() {
    objective();
    text_ += "Subject To\n";
    for (std::size_t j = 0; j < x_.tasks.size(); ++j) task_rows(j);
    for (std::size_t k = 0; k < x_.once.size(); ++k) growing('z', k);
    for (std::size_t r = 0; r < x_.openings.size(); ++r) opening_rows(r);
    for (std::size_t t = 0; t < stages_; ++t) cash_row(t);
    for (std::size_t t = 0; t < stages_; ++t) hours_row(t);
    row();
    term(1, "one");
    end("=", 1);
    text_ += "Binaries\n";
    for (const std::string& variable : used_) text_ += " " + variable + "\n";
    return text_ + "End\n";
  }

 private:
  void row() { text_ += " r" + std::to_string(rows_++) + ":"; }

  /// Long rows are broken: some readers limit the length of a line.
  void term(std::int64_t factor, const std::string& variable) {
    if (factor == 0) return;
    if (variable != "one") used_.insert(variable);
    if (++terms_ % 8 == 0) text_ += "\n ";
    text_ += (factor < 0 ? " - " : " + ") + std::to_string(std::abs(factor)) + " " + variable;
  }

  void end(const char* relation, std::int64_t right) {
    text_ += std::string(" ") + relation + " " + std::to_string(right) + "\n";
    terms_ = 0;
  }

  /// factor times whether task j is done in stage t.
  void in_stage(std::int64_t factor, std::size_t j, std::size_t t) {
    term(factor, name('y', j, t));
    if (t > 0) term(-factor, name('y', j, t - 1));
  }

  void growing(char letter, std::size_t index) {
    for (std::size_t t = 1; t < stages_; ++t) less_equal(name(letter, index, t - 1), name(letter, index, t));
  }

  void less_equal(const std::string& small, const std::string& large) {
    row();
    term(1, small);
    term(-1, large);
    end("<=", 0);
  }

  void fix(const std::string& variable, std::int64_t value) {
    row();
    term(1, variable);
    end("=", value);
  }

  /// The charge, paid in stage t if task j is done in it, is covered by a variable.
  void covered(std::size_t j, std::size_t t, const std::string& charge) {
    row();
    in_stage(1, j, t);
    term(-1, charge);
    end("<=", 0);
  }

  void objective();
  void task_rows(std::size_t j);
  void window_rows(std::size_t j);
  void opening_rows(std::size_t r);
  void cash_row(std::size_t t);
  void hours_row(std::size_t t);

  const Exchange& x_;
  std::size_t stages_;
  std::string text_;
  std::set<std::string> used_;  ///< variables that occur
  int rows_ = 0;
  int terms_ = 0;
};

/// `one` is 1; it keeps the objective from being empty.
void LpWriter::objective() {
  text_ += "Minimize\n obj: 0 one";
  for (std::size_t j = 0; j < x_.tasks.size(); ++j) {
    for (std::size_t t = 0; t < stages_; ++t) term(-x_.tasks[j].value, name('y', j, t));
  }
  text_ += "\n";
  terms_ = 0;
}

void LpWriter::window_rows(std::size_t j) {
  const ExchangeTask& task = x_.tasks[j];
  const std::size_t last = task.latest < 0 ? stages_ - 1 : static_cast<std::size_t>(task.latest);
  for (int t = 0; t < task.earliest; ++t) fix(name('y', j, static_cast<std::size_t>(t)), 0);
  for (std::size_t t = last + 1; t < stages_; ++t) less_equal(name('y', j, t), name('y', j, last));
  if (task.must) fix(name('y', j, last), 1);
}

void LpWriter::task_rows(std::size_t j) {
  const ExchangeTask& task = x_.tasks[j];
  growing('y', j);
  window_rows(j);
  for (std::size_t t = 0; t < stages_; ++t) {
    for (int before : task.after) less_equal(name('y', j, t), name('y', static_cast<std::size_t>(before), t));
    for (int k : task.once) less_equal(name('y', j, t), name('z', static_cast<std::size_t>(k), t));
    for (int r : task.opens) covered(j, t, name('o', static_cast<std::size_t>(r), t));
    if (task.source >= 0) covered(j, t, name('s', static_cast<std::size_t>(task.source), t));
  }
}

void LpWriter::opening_rows(std::size_t r) {
  for (std::size_t t = 0; t < stages_; ++t) {
    for (int n : x_.openings[r].needs) less_equal(name('o', r, t), name('o', static_cast<std::size_t>(n), t));
  }
}

/// All that is paid up to stage t within all that has come in, less what is kept back.
void LpWriter::cash_row(std::size_t t) {
  std::int64_t cash = x_.opening - x_.keep_back;
  row();
  for (std::size_t j = 0; j < x_.tasks.size(); ++j) term(x_.tasks[j].cost, name('y', j, t));
  for (std::size_t k = 0; k < x_.once.size(); ++k) term(x_.once[k], name('z', k, t));
  for (std::size_t u = 0; u <= t; ++u) {
    cash += x_.stages[u].cash_in;
    for (std::size_t r = 0; r < x_.openings.size(); ++r) term(x_.openings[r].cost, name('o', r, u));
    for (std::size_t q = 0; q < x_.sources.size(); ++q) term(x_.sources[q], name('s', q, u));
  }
  term(1, "one");
  end("<=", cash + 1);
}

void LpWriter::hours_row(std::size_t t) {
  row();
  for (std::size_t j = 0; j < x_.tasks.size(); ++j) in_stage(x_.tasks[j].hours, j, t);
  for (std::size_t r = 0; r < x_.openings.size(); ++r) term(x_.openings[r].hours, name('o', r, t));
  term(1, "one");
  end("<=", x_.stages[t].hours + 1);
}

}  // namespace

std::string write_lp(const Exchange& exchange) { return LpWriter(exchange).write(); }

}  // namespace fettlefund::bench
