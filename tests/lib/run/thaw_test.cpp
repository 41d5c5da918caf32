// Phones freeze their place at rest, and overshoot as they catch up with the vehicle.
#include "bothways/run/find.hpp"
#include "bothways/run/pull.hpp"
#include "lib/run/rides.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double m_per_deg = 111'195.0;

/// Positions alone, one a second, due north.
class Phone {
 public:
  void rest(int seconds) { ride(std::vector<double>(static_cast<std::size_t>(seconds), 0.0)); }

  /// @param way_m  of each second
  void ride(const std::vector<double>& way_m) {
    for (const double way : way_m) {
      north_m_ += way;
      const double t_s = static_cast<double>(log_.fixes.size());
      log_.fixes.push_back(
          {.time = shifted(ride_begin, t_s), .lat_deg = 47.0 + north_m_ / m_per_deg, .lon_deg = 8.0});
    }
  }

  [[nodiscard]] const Log& log() const { return log_; }

 private:
  Log log_;
  double north_m_ = 0.0;
};

const std::vector<double> pull_m{5.6, 6.5, 7.4, 8.2, 8.9, 9.5, 10.1, 10.6, 11.0, 11.4};
const std::vector<double> brake_m{10.0, 7.0, 4.0, 1.0};

/// Four starts after half a minute at rest each, the first steps as given.
Runs started(const std::vector<double>& first_m) {
  Phone phone;
  for (int i = 0; i < 4; ++i) {
    phone.rest(30);
    phone.ride(first_m);
    phone.ride(pull_m);
    phone.ride(brake_m);
  }
  phone.rest(30);
  return runs_of(phone.log(), "0-20 mph");
}

}  // namespace

TEST_CASE("a frozen place that overshoots as it catches up is no lift", "[run]") {
  CHECK(started({2.9, 4.5}).accepted.size() == 4);  // no overshoot
  CHECK(started({7.6, 3.8}).accepted.size() == 4);  // 4 m ahead after a second, on which half is given back
}

TEST_CASE("who lets off soon after the start is not as fast again", "[run]") {
  Phone phone;
  for (int i = 0; i < 4; ++i) {
    phone.rest(30);
    phone.ride({6.0, 9.5, 5.5, 4.0, 3.5, 3.0, 3.0, 3.0, 3.0, 3.0, 1.0});
  }
  phone.rest(30);
  CHECK(runs_of(phone.log(), "0-20 mph").accepted.empty());
}

TEST_CASE("pulls are compared further up the noisier the speeds are, but not near the top speed", "[run]") {
  SpeedSeries series;
  series.receiver.white_sd_mps = 0.02;
  series.receiver.slow_sd_mps = 0.02;
  CHECK_THAT(compared_up_to_mps(series, 25.0), WithinAbs(8.9, 1e-9));
  series.receiver.white_sd_mps = 0.24;
  series.receiver.slow_sd_mps = 0.18;  // 0.3 in all: 2 + sqrt(2) 0.3 / 0.03
  CHECK_THAT(compared_up_to_mps(series, 25.0), WithinAbs(16.14, 0.01));
  CHECK_THAT(compared_up_to_mps(series, 15.0), WithinAbs(12.0, 1e-9));
  CHECK_THAT(compared_up_to_mps(series, 8.0), WithinAbs(7.6, 1e-9));
}
