#include "bothways/speed/known_lag.hpp"

#include "bothways/speed/smoothing.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

Receiver late_by(double lag_s, double rate_hz, double sd_s = 0.01) {
  Receiver r;
  r.rate_hz = rate_hz;
  r.lag_s = lag_s;
  r.lag_sd_s = sd_s;
  return r;
}

}  // namespace

TEST_CASE("filters of a known lag show a steady pull as late as it is", "[speed]") {
  for (const Receiver& r : {late_by(0.4, 1.0), late_by(0.4, 10.0), late_by(-0.3, 1.0), late_by(1.3, 1.0)}) {
    CAPTURE(r.lag_s, r.rate_hz);
    const std::vector<Smoothing> filters = filters_of_known_lag(r);
    REQUIRE_FALSE(filters.empty());
    for (const Smoothing& s : filters) {
      CHECK_THAT(s.filter.delay_s(), WithinAbs(r.lag_s, 1e-12));
    }
  }
}

TEST_CASE("a lag is a low pass with half of the belief, in a slow log a mean over readings first",
          "[speed]") {
  const std::vector<Smoothing> fast = filters_of_known_lag(late_by(0.4, 10.0));
  REQUIRE(fast.size() == 1);
  CHECK(fast[0].filter == SpeedFilter{.lag_s = 0.4});
  CHECK(fast[0].weight == 0.5);
  const std::vector<Smoothing> slow = filters_of_known_lag(late_by(0.4, 1.0));
  REQUIRE(slow.size() == 2);
  CHECK(slow[0].filter.feedthrough > 0.0);
  CHECK(slow[0].weight == 0.5);
  CHECK(slow[1].filter == SpeedFilter{.lag_s = 0.4});
  CHECK(slow[1].weight == 0.25);
  CHECK(filters_of_known_lag(late_by(1.3, 10.0)).empty());  // a delay
}

TEST_CASE("speeds of a slow log that come early are predicted from the last readings", "[speed]") {
  const std::vector<Smoothing> filters = filters_of_known_lag(late_by(-0.3, 2.0));
  REQUIRE(filters.size() == 1);
  CHECK_THAT(filters[0].filter.feedthrough, WithinAbs(1.6, 1e-12));  // 0.6 of a step of 0.5 s
  CHECK_THAT(filters[0].filter.lag_s, WithinAbs(0.5, 1e-12));
  CHECK(filters[0].weight == 0.5);
  CHECK(filters_of_known_lag(late_by(-0.3, 10.0)).empty());
}

TEST_CASE("a lag within its noise says nothing", "[speed]") {
  CHECK(filters_of_known_lag(late_by(0.08, 10.0, 0.05)).empty());
  CHECK(filters_of_known_lag(late_by(0.05, 10.0)).empty());  // sd 0.03 s at least
  CHECK(filters_of_known_lag(late_by(-0.3, 1.0, 0.2)).empty());
}

TEST_CASE("sharp stops refute a low pass of the whole lag, but not a mean over readings", "[speed]") {
  const std::vector<BrakeEnd> sharp(12, {0.0, 0.02});
  const auto of_lag = [&](double rate_hz, const std::vector<BrakeEnd>& ends) {
    std::vector<Smoothing> all = smoothing_posterior(ends, late_by(0.6, rate_hz));
    double sum = 0.0;
    double mean = 0.0;
    double low_pass = 0.0;
    for (const Smoothing& s : all) {
      sum += s.weight;
      mean += s.filter.feedthrough > 0.0 ? s.weight : 0.0;
      low_pass += s.filter == SpeedFilter{.lag_s = 0.6} ? s.weight : 0.0;
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
    return std::vector{mean, low_pass};
  };
  CHECK_THAT(of_lag(10.0, {})[1], WithinAbs(0.5, 1e-9));
  CHECK(of_lag(10.0, sharp)[1] < 0.02);
  CHECK_THAT(of_lag(1.0, {})[1], WithinAbs(0.25, 1e-9));
  CHECK(of_lag(1.0, sharp)[1] < 0.02);
  CHECK_THAT(of_lag(1.0, sharp)[0], WithinAbs(0.5, 1e-9));
}
