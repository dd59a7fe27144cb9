#pragma once
#include <memory>

#include "lib/outcome/outcome.hpp"
#include "lib/progress/history.hpp"

/// A build of which every stage is over.
namespace fettlefund::planning {

/// How many stages are over on `day`: their last bench date is before it.
int stages_over(const build::Build& build, Date day);
bool all_over(const build::Build& build, Date day);

/// What is left of such a build: the cash, and the jobs that nobody did.
struct Closing {
  std::unique_ptr<build::Build> build;  ///< to which the outcome points
  Outcome outcome;                      ///< without stages; nothing is planned and nothing is claimed of it
};

/// The build as its log leaves it on `day`, on which all of it is over. MoneyOverflow where amounts leave the
/// range of money.
Closing close_on(const build::Build& build, const log::Log& log, Date day);

}  // namespace fettlefund::planning
