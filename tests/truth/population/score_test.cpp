#include "truth/population/score.hpp"

#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace bothways;
using namespace bothways::population;
using Catch::Matchers::WithinAbs;

namespace {

using Counts = std::vector<std::pair<std::size_t, std::size_t>>;

}  // namespace

TEST_CASE("figures of a ride that always agree count as one", "[population]") {
  const Counts rides{{10, 10}, {10, 10}, {10, 10}, {10, 10}, {0, 10}, {10, 10}, {10, 10}, {0, 10}};
  const Counts single{{1, 1}, {1, 1}, {1, 1}, {1, 1}, {0, 1}, {1, 1}, {1, 1}, {0, 1}};
  const Share many = share_of(rides);
  const Share few = share_of(single);
  CHECK(many.value == few.value);
  CHECK_THAT(many.lo99, WithinAbs(few.lo99, 1e-9));
  CHECK_THAT(many.hi99, WithinAbs(few.hi99, 1e-9));
}

TEST_CASE("a share of all is hardly surer than the number of rides", "[population]") {
  const Share all = share_of(Counts{{20, 20}, {20, 20}, {20, 20}, {20, 20}});
  const double z2 = 2.5758293035489004 * 2.5758293035489004;
  CHECK(all.hi99 == 1.0);
  CHECK(all.lo99 < 8.0 / (8.0 + z2));  // Wilson, eight of eight
  CHECK(share_of(Counts{}).n == 0);
}

TEST_CASE("the clustered 99 % interval of a share holds it in 99 of 100", "[population]") {
  sim::Random random(5);
  constexpr int trials = 1000;
  constexpr double share = 0.9;
  int held = 0;
  for (int trial = 0; trial < trials; ++trial) {
    Counts rides;
    for (int ride = 0; ride < 60; ++ride) {
      // One ride in two has figures that all agree, the other independent ones.
      const bool alike = random.uniform() < 0.5;
      const bool first = random.uniform() < share;
      std::size_t hits = 0;
      for (int k = 0; k < 8; ++k) {
        const bool own = random.uniform() < share;
        hits += (alike ? first : own) ? 1 : 0;
      }
      rides.emplace_back(hits, 8);
    }
    const Share found = share_of(rides);
    held += found.lo99 <= share && share <= found.hi99 ? 1 : 0;
  }
  CHECK(held >= 980);  // of 1000; 990 - 3 sd of the count
}

TEST_CASE("the interval score is the width, and 40 times a miss", "[population]") {
  const Estimate found{.value = 5.0, .sd = 0.1, .lo95 = 4.8, .hi95 = 5.2};
  CHECK_THAT(interval_score(found, 5.1), WithinAbs(0.4, 1e-12));
  CHECK_THAT(interval_score(found, 5.3), WithinAbs(0.4 + 40.0 * 0.1, 1e-12));
  CHECK_THAT(interval_score(found, 4.7), WithinAbs(0.4 + 40.0 * 0.1, 1e-12));
}

TEST_CASE("the integral transform puts truths where the law has them", "[population]") {
  const Estimate skew{.value = 5.0, .sd = 0.2, .lo95 = 4.8, .hi95 = 5.6};
  CHECK_THAT(pit(skew, 4.8), WithinAbs(0.025, 1e-9));
  CHECK_THAT(pit(skew, 5.0), WithinAbs(0.5, 1e-12));
  CHECK_THAT(pit(skew, 5.6), WithinAbs(0.975, 1e-9));
}

TEST_CASE("a figure outside its own interval is broken and in no mean", "[population]") {
  Judged ride;
  ride.figures = {{.found = {5.0, 0.1, 4.8, 5.2}, .true_s = 5.1},
                  {.found = {5.0, 0.1, 5.1, 5.2}, .true_s = 5.1},
                  {.found = {std::nan(""), 0.1, 5.1, 5.2}, .true_s = 5.1}};
  const Summary s = summary_of({ride}, [](const Judged&, const Figure&) { return true; });
  CHECK(s.held.n == 1);
  CHECK(s.broken == 2);
  CHECK_THAT(s.bias, WithinAbs(-0.1, 1e-12));
  CHECK_THAT(s.mean_square, WithinAbs(1.0, 1e-9));
  CHECK(s.pit[8] == 1);  // one sd above: 0.84
}
