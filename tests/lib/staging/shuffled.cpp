#include "tests/lib/staging/shuffled.hpp"

namespace fettlefund::test {
namespace {

using testing::Random;

void shuffle_article(build::Article& article, Random& random) {
  random.shuffle(article.offers);
  random.shuffle(article.serves);
  random.shuffle(article.serves_for);
  random.shuffle(article.borrow);
}

void shuffle_removal(build::Removal& removal, Random& random) {
  random.shuffle(removal.needs);
  random.shuffle(removal.one_use);
  random.shuffle(removal.tools);
  random.shuffle(removal.torques);
  random.shuffle(removal.tags);
}

void shuffle_job(build::Job& job, Random& random) {
  for (auto* ids : {&job.removals, &job.after, &job.together_with, &job.tools, &job.tags, &job.replaced_by})
    random.shuffle(*ids);
  random.shuffle(job.uses);
  random.shuffle(job.torques);
}

}  // namespace

build::Build shuffled(build::Build build, Random& random) {
  for (build::Article& article : build.articles) shuffle_article(article, random);
  for (build::Removal& removal : build.removals) shuffle_removal(removal, random);
  for (build::Job& job : build.jobs) shuffle_job(job, random);
  for (build::Fitted& fitted : build.fitted) {
    random.shuffle(fitted.replaced_by);
    random.shuffle(fitted.reached_by);
  }
  for (build::Clash& clash : build.clashes) random.shuffle(clash.unless);
  random.shuffle(build.money.extras);
  random.shuffle(build.bench.exceptions);
  random.shuffle(build.bench.sessions);
  random.shuffle(build.suppliers);
  random.shuffle(build.articles);
  random.shuffle(build.on_hand);
  random.shuffle(build.removals);
  random.shuffle(build.jobs);
  random.shuffle(build.fitted);
  random.shuffle(build.clashes);
  random.shuffle(build.agreement.jobs);
  return build;
}

}  // namespace fettlefund::test
