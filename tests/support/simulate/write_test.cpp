#include "support/simulate/write.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <string>

using namespace bothways;
using namespace bothways::sim;
using Catch::Matchers::WithinAbs;

namespace {

Log simulated() {
  ReceiverModel model;
  model.with_accuracy = true;
  const Truth truth = ride(scooter(), {}, one_way(Speed::from_mph(52).mps(), 280.0, 5.0));
  return receive(truth, model, 1);
}

/// Every fix as it was, within half a last digit (and a little for the arithmetic).
void check_same(const Log& found, const Log& log, double speed_step_mps, double degree_step) {
  REQUIRE(found.fixes.size() == log.fixes.size());
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& a = found.fixes[i];
    const Fix& b = log.fixes[i];
    REQUIRE(std::abs(a.time.unix_us - b.time.unix_us) < 1000);
    REQUIRE_THAT(a.lat_deg, WithinAbs(b.lat_deg, 0.51 * degree_step));
    REQUIRE_THAT(a.lon_deg, WithinAbs(b.lon_deg, 0.51 * degree_step));
    if (speed_step_mps > 0.0) {
      REQUIRE_THAT(a.speed_mps, WithinAbs(b.speed_mps, 0.51 * speed_step_mps));
    } else {
      REQUIRE(!is_known(a.speed_mps));
    }
  }
}

}  // namespace

TEST_CASE("what the simulator writes is what the reader reads", "[simulate]") {
  const Log log = simulated();
  const double minute_step = 1e-5 / 60.0;
  check_same(read_back(to_nmea(log)), log, 1e-3 * mps_per_knot, minute_step);
  check_same(read_back(to_nmea(log, {.knot_decimals = 1, .minute_decimals = 4, .gga_every = 0})), log,
             0.1 * mps_per_knot, 1e-4 / 60.0);
  check_same(read_back(to_gpx(log, "Mill Lane")), log, 0.01, 1e-7);
  check_same(read_back(to_gpx(log, "Mill Lane", {.speed = GpxSpeed::element})), log, 0.01, 1e-7);
  check_same(read_back(to_gpx(log, "Mill Lane", {.speed = GpxSpeed::none})), log, 0.0, 1e-7);
  check_same(read_back(to_csv(log)), log, 1e-3, 1e-7);
  check_same(read_back(gzipped(to_nmea(log))), log, 1e-3 * mps_per_knot, minute_step);
}

TEST_CASE("position sd written as GST is read", "[simulate]") {
  const Log log = simulated();
  const Log found = read_back(to_nmea(log, {.gst = true}));
  REQUIRE(found.fixes.size() == log.fixes.size());
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    REQUIRE(is_known(found.fixes[i].position_sd_m));
    // the reader may make one figure of the two axes
    REQUIRE(found.fixes[i].position_sd_m >= log.fixes[i].position_sd_m - 0.006);
    REQUIRE(found.fixes[i].position_sd_m <= 1.5 * log.fixes[i].position_sd_m);
  }
}

TEST_CASE("gzip gives back what went in", "[simulate]") {
  const std::string text(100'000, 'x');
  CHECK(gunzipped(gzipped(text + "y")) == text + "y");
  CHECK_THROWS(gunzipped("no gzip"));
}
