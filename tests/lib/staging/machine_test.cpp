#include "lib/staging/machine.hpp"

#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

TEST_CASE("what had to be done before a job does not take off what that job fits") {
  test::BuildMaker maker;
  maker.job("strip");
  maker.job("prime", {}, {"strip"});
  maker.job("paint", {}, {"prime"}).replaced_by = {"strip"};
  CHECK(planning::taken_off_by(maker.build(), 2).empty());
  maker.build().jobs[2].after.clear();
  CHECK(planning::taken_off_by(maker.build(), 2) == std::vector{0});
}

TEST_CASE("a job carries the mates of the articles that it fits, its own first") {
  test::BuildMaker maker;
  maker.article("chain").mates = {{"chain", "520"}, {"pitch", "15.875"}};
  build::Job& job = maker.job("drive");
  job.mates = {{"chain", "525"}};
  job.uses = {{"chain", 1000}};
  CHECK(planning::mates_of(maker.build(), job) == build::Mates{{"chain", "525"}, {"pitch", "15.875"}});
}
