#include "bothways/run/split_times.hpp"
#include "lib/launch/made_up_paths.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// A vehicle whose gear change is at 36 km/h.
Run geared_run(const std::string& splits) {
  LaunchPosterior posterior;
  posterior.paths = {made_up::path_of(made_up::geared(10.0, 0.0), 0.05)};
  return timed_run(posterior, parse_splits(splits), Instant{}, 9.0);
}

}  // namespace

TEST_CASE("what a gear change at a mark leaves open is nearly all of the doubt of a split and shared",
          "[run]") {
  const Run run = geared_run("0-36 km/h, 36-42 km/h");
  REQUIRE(run.splits.size() == 2);
  const Split& to = run.splits[0];
  const Split& from = run.splits[1];
  // Before the change at 5.0 s with probability 0.643, after it at 5.6 s with the rest.
  const double doubt = 0.6 * std::sqrt(0.643 * 0.357);
  REQUIRE(to.crossing_shared_s.size() == 2);
  CHECK_THAT(to.crossing_shared_s[0], WithinAbs(doubt, 0.02));
  CHECK(to.crossing_shared_s[1] == 0.0);
  CHECK(to.crossing_shared_s[0] < to.rollout.sd);
  CHECK(to.crossing_shared_s[0] > 0.95 * to.rollout.sd);
  // A later crossing makes the split that begins there shorter.
  REQUIRE(from.crossing_shared_s.size() == 2);
  CHECK(from.crossing_shared_s[0] == 0.0);
  CHECK_THAT(from.crossing_shared_s[1], WithinAbs(-to.crossing_shared_s[0], 1e-12));
}

TEST_CASE("a mark away from gear changes leaves nothing open that runs share", "[run]") {
  for (const Split& split : geared_run("0-30 km/h, 30-42 km/h, 0-42 km/h").splits) {
    CAPTURE(split.spec.name);
    CHECK(split.crossing_shared_s.empty());
  }
}

TEST_CASE("a split within one gear change shares no more than its time has", "[run]") {
  const Run run = geared_run("35.8-36.1 km/h");
  REQUIRE(run.splits.size() == 1);
  const Split& split = run.splits.front();
  REQUIRE(split.crossing_shared_s.size() == 2);
  CHECK(std::hypot(split.crossing_shared_s[0], split.crossing_shared_s[1]) < split.rollout.sd);
}
