#include "bothways/speed/noise.hpp"

#include "bothways/core/units.hpp"
#include "bothways/speed/derive.hpp"
#include "bothways/speed/resolution.hpp"
#include "lib/speed/rides.hpp"
#include "support/simulate/random.hpp"
#include "support/simulate/ride.hpp"
#include "support/simulate/script.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<double> written(double step_mps) {
  sim::Random random(5);
  std::vector<double> out;
  for (int i = 0; i < 300; ++i) {
    const double v = random.uniform(0.0, 25.0);
    out.push_back(step_mps > 0.0 ? std::round(v / step_mps) * step_mps : v);
  }
  return out;
}

Receiver receiver_of(const sim::ReceiverModel& model, std::uint64_t seed) {
  return speed_series(logged(model, seed)).receiver;
}

}  // namespace

TEST_CASE("the step of the written speeds is found in every usual unit", "[speed]") {
  for (const double step : {0.1 * mps_per_knot, 0.01 * mps_per_knot, mps_per_knot, 0.01, 0.1, 1.0,
                            mps_per_kmh, 0.1 * mps_per_kmh}) {
    CHECK_THAT(resolution_of(written(step)), WithinRel(step, 1e-12));
  }
  CHECK(resolution_of(written(0.0)) == 0.0);
  CHECK(resolution_of(written(0.001)) == 0.0);  // too fine to matter
}

TEST_CASE("half steps, miles an hour and a second rounding are seen as well", "[speed]") {
  for (const double step : {0.5 * mps_per_kmh, mps_per_mph, 0.5 * mps_per_knot, 0.5}) {
    CHECK_THAT(resolution_of(written(step)), WithinRel(step, 1e-12));
    std::vector<double> again = written(step);
    for (double& v : again) {
      v = std::round(v * 100.0) / 100.0;  // written in another unit, with two decimals
    }
    CHECK_THAT(resolution_of(again), WithinRel(step, 1e-12));
  }
}

TEST_CASE("too few speeds say nothing of their step", "[speed]") {
  CHECK(resolution_of({1.0, 2.0, 3.0}) == 0.0);
  CHECK(resolution_of(std::vector<double>(500, 0.0)) == 0.0);
}

TEST_CASE("the white noise of a reading is estimated within 20 %", "[speed]") {
  for (const double rate_hz : {5.0, 10.0, 25.0}) {
    for (const double sd : {0.02, 0.035, 0.1, 0.2}) {
      sim::ReceiverModel model;
      model.rate_hz = rate_hz;
      model.white_sd_mps = sd;
      model.slow_sd_mps = sd;
      INFO(rate_hz << " Hz, " << sd << " m/s");
      CHECK_THAT(receiver_of(model, 21).white_sd_mps, WithinRel(sd, 0.2));
    }
  }
}

TEST_CASE("the noise at rest is found with its number of axes", "[speed]") {
  for (const auto noise : {sim::SpeedNoise::vector, sim::SpeedNoise::folded}) {
    sim::ReceiverModel model;
    model.noise = noise;
    model.white_sd_mps = 0.05;
    model.slow_sd_mps = 0.02;
    const Receiver r = receiver_of(model, 22);
    CHECK(r.standing_axes == (noise == sim::SpeedNoise::vector ? 2 : 1));
    CHECK_THAT(r.standing_sd_mps, WithinRel(std::hypot(0.05, 0.02), 0.2));
    CHECK(r.zero_hold_mps == 0.0);
  }
}

TEST_CASE("the slow error of a receiver that stands for minutes is found in its size and its time",
          "[speed]") {
  const double top_mps = Speed::from_mph(45).mps();
  const double stretch_m = sim::run_length_m(sim::scooter(), top_mps);
  sim::Script script = sim::one_way(top_mps, stretch_m, 400.0);
  sim::append(script, sim::one_way(top_mps, stretch_m, 400.0));
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script);
  for (const double slow_time_s : {1.0, 12.0}) {
    sim::ReceiverModel model;
    model.white_sd_mps = 0.035;
    model.slow_sd_mps = 0.035;
    model.slow_time_s = slow_time_s;
    const Receiver r = speed_series(sim::receive(truth, model, 25)).receiver;
    CAPTURE(slow_time_s, r.slow_time_s);
    CHECK(r.slow_time_s > slow_time_s / 1.7);
    CHECK(r.slow_time_s < slow_time_s * 1.7);
    CHECK_THAT(r.slow_sd_mps, WithinRel(0.035, 0.25));
  }
}

TEST_CASE("the hold of a receiver is found from the lowest speeds that it writes", "[speed]") {
  for (const double hold : {0.2, 0.4, 0.8}) {
    sim::ReceiverModel model;
    model.zero_hold_mps = hold;
    const Receiver r = receiver_of(model, 23);
    INFO("hold " << hold << ", found " << r.zero_hold_mps << " width " << r.zero_hold_width_mps);
    CHECK_THAT(r.zero_hold_mps, WithinAbs(hold, 0.12));
  }
}

TEST_CASE("a receiver that holds its speed may be off slowly in motion, however smooth it is", "[speed]") {
  sim::ReceiverModel smooth;
  smooth.white_sd_mps = 0.01;
  smooth.slow_sd_mps = 0.0;
  const Receiver shown = receiver_of(smooth, 23);
  smooth.zero_hold_mps = 0.2;
  const Receiver held = receiver_of(smooth, 23);
  CHECK(shown.slow_sd_mps < 0.03);
  CHECK(held.white_sd_mps < 0.02);
  CHECK(held.slow_sd_mps >= 0.08);
}

TEST_CASE("low speeds before a stop do not make the hold lower", "[speed]") {
  sim::ReceiverModel model;
  model.zero_hold_mps = 0.8;
  SpeedSeries series = speed_series(logged(model, 23));
  Log log;
  for (Stretch& s : series.stretches) {  // the last three fixes of each brake are written all the same
    for (std::size_t i = 3; i + 1 < s.v_mps.size(); ++i) {
      if (s.v_mps[i] == 0.0 && s.v_mps[i - 1] > 0.8) {
        s.v_mps[i] = 0.4;
        s.v_mps[i + 1] = 0.1;
        i += 2;
      }
    }
  }
  CHECK_THAT(estimate_receiver(series.stretches, log, 10.0).zero_hold_mps, WithinAbs(0.8, 0.12));
}

TEST_CASE("the written step of a whole log is found through the receiver", "[speed]") {
  sim::ReceiverModel model;
  model.resolution_mps = 0.1 * mps_per_knot;
  CHECK_THAT(receiver_of(model, 24).resolution_mps, WithinRel(0.1 * mps_per_knot, 1e-9));
  model.resolution_mps = 0.01 * mps_per_knot;
  CHECK_THAT(receiver_of(model, 24).resolution_mps, WithinRel(0.01 * mps_per_knot, 1e-9));
  model.resolution_mps = 0.0;
  CHECK(receiver_of(model, 24).resolution_mps == 0.0);
}
