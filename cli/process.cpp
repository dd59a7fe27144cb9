#include "cli/process.hpp"

#include <cstdint>
#include <cstdlib>
#include <ctime>

#include <signal.h>
#include <unistd.h>

namespace fettlefund::cli {
namespace {

std::atomic<bool> asked_to_stop{false};
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may set it");

void ask_to_stop(int) { asked_to_stop = true; }

std::optional<budgets::Date> today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  if (::localtime_r(&now, &local) == nullptr) return std::nullopt;
  return budgets::make_date(local.tm_year + 1900, static_cast<unsigned>(local.tm_mon) + 1,
                            static_cast<unsigned>(local.tm_mday));
}

/// From the system's source of random bytes; where there is none, from clock and process.
std::string salt() {
  std::uint64_t bytes = 0;
  if (::getentropy(&bytes, sizeof bytes) != 0) {
    timespec now{};
    ::clock_gettime(CLOCK_REALTIME, &now);
    bytes = static_cast<std::uint64_t>(now.tv_sec) * 1'000'000'000u +
            static_cast<std::uint64_t>(now.tv_nsec) + (static_cast<std::uint64_t>(::getpid()) << 40u);
  }
  return std::to_string(bytes);
}

}  // namespace

Surroundings watch_process() {
  struct sigaction action {};
  action.sa_handler = ask_to_stop;
  action.sa_flags = static_cast<int>(SA_RESETHAND | SA_RESTART);
  ::sigaction(SIGINT, &action, nullptr);
  ::sigaction(SIGTERM, &action, nullptr);
  const char* no_colour = std::getenv("NO_COLOR");
  return {::isatty(STDOUT_FILENO) == 1,
          ::isatty(STDERR_FILENO) == 1,
          no_colour && *no_colour,
          &asked_to_stop,
          today(),
          salt()};
}

}  // namespace fettlefund::cli
