#include "cli/progress.hpp"

#include <ostream>

#include "lib/outcome/words.hpp"
#include "lib/staging/want.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

std::string want_months(std::int64_t worth) {
  return planning::want_months_text(worth / planning::worth_per_want_day);
}

}  // namespace

ProgressLine::ProgressLine(const Request& request, const Console& console, int stages)
    : request_(request),
      console_(console),
      stages_(stages),
      next_(std::chrono::steady_clock::now() + std::chrono::seconds(1)) {}

budgets::SolveOptions ProgressLine::options() {
  budgets::SolveOptions options;
  options.effort = request_.effort;
  options.until_a_plan = true;
  options.stop = console_.around.stop;
  if (request_.progress || console_.around.err_is_terminal) {
    options.on_progress = [this](const budgets::Progress& progress) { show(progress); };
  }
  return options;
}

void ProgressLine::show(const budgets::Progress& progress) {
  const auto now = std::chrono::steady_clock::now();
  if (now < next_) return;
  next_ = now + std::chrono::milliseconds(250);
  const std::string value = progress.value ? want_months(*progress.value) : "none yet";
  const std::string line = fmt::format("stage {} of {}, best plan {}, at most {} want-months",
                                       progress.layer + 1, stages_, value, want_months(progress.bound));
  if (console_.around.err_is_terminal) {
    console_.err << '\r' << line << "\033[K" << std::flush;
  } else {
    console_.err << line << '\n' << std::flush;
  }
  shown_ = true;
}

void ProgressLine::end() {
  if (shown_ && console_.around.err_is_terminal) console_.err << "\r\033[K" << std::flush;
  if (console_.around.stop && *console_.around.stop) {
    console_.err << "fettlefund: stopped on request; what follows is the best found up to then\n";
  }
}

}  // namespace fettlefund::cli
