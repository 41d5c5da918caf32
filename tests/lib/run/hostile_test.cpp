#include "bothways/core/split_spec.hpp"
#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>

using namespace bothways;

namespace {

/// What a broken receiver may write: steps of a microsecond or of days, wild speeds, long holds, coarse
/// steps, jumps of the place, speeds or places left out.
class Broken {
 public:
  explicit Broken(std::uint64_t seed) : random_(seed) {
    const double rates[] = {1.0, 2.0, 5.0, 10.0, 25.0};
    const double noises[] = {0.0, 1e-3, 0.05, 0.3, 2.0};
    const double steps[] = {0.0, 0.01, 0.1, 1.0};
    rate_hz_ = rates[random_.integer(0, 4)];
    noise_mps_ = noises[random_.integer(0, 4)];
    step_mps_ = steps[random_.integer(0, 3)];
    hold_mps_ = random_.uniform() < 0.3 ? random_.uniform(0.1, 3.0) : 0.0;
    wild_ = random_.uniform() < 0.5 ? random_.uniform(0.0, 0.3) : 0.0;
    with_speed_ = random_.uniform() < 0.3 ? random_.uniform() : 1.0;
    with_place_ = random_.uniform() < 0.7;
  }

  Log log() {
    Log out;
    out.path = "broken";
    double t_s = 0.0;
    for (int i = 0; i < 600; ++i) {
      t_s += random_.uniform() < 0.01 ? odd_step_s() : 1.0 / rate_hz_;
      ride();
      Fix fix;
      fix.time.unix_us = 1'780'000'000'000'000 + std::llround(t_s * 1e6);
      if (random_.uniform() < with_speed_) {
        fix.speed_mps = reading();
      }
      if (with_place_) {
        fix.lat_deg =
            -33.0 + travel_m_ / 111'000.0 + (random_.uniform() < 0.3 ? 1e-5 * random_.normal() : 0.0);
        fix.lon_deg = 18.0;
      }
      out.fixes.push_back(fix);
    }
    return out;
  }

 private:
  double odd_step_s() {
    const double odd[] = {1e-6, 3.0, 3600.0, 30.0 * 86'400.0};
    return odd[random_.integer(0, 3)];
  }

  void ride() {
    if (random_.uniform() < 0.02) {
      accelerates_ = random_.uniform() < 0.5;
    }
    v_mps_ = std::clamp(v_mps_ + (accelerates_ ? 4.0 : -5.0) / rate_hz_, 0.0, 40.0);
    travel_m_ += v_mps_ / rate_hz_;
  }

  double reading() {
    double z = std::abs(v_mps_ + noise_mps_ * random_.normal());
    if (random_.uniform() < wild_) {
      const double wild[] = {0.0, 250.0, 1e6, z + 3.0, 1e-12};
      z = wild[random_.integer(0, 4)];
    }
    z = z < hold_mps_ ? 0.0 : z;
    return step_mps_ > 0.0 ? std::round(z / step_mps_) * step_mps_ : z;
  }

  sim::Random random_;
  double rate_hz_ = 1.0;
  double noise_mps_ = 0.0;
  double step_mps_ = 0.0;
  double hold_mps_ = 0.0;
  double wild_ = 0.0;
  double with_speed_ = 1.0;
  bool with_place_ = true;
  bool accelerates_ = false;
  double v_mps_ = 0.0;
  double travel_m_ = 0.0;
};

void check_figure(const Estimate& e) {
  CHECK(std::isfinite(e.value));
  CHECK(e.sd >= 0.0);
  CHECK(e.lo95 <= e.hi95);
}

}  // namespace

TEST_CASE("whatever a broken receiver writes, the times of its runs are figures", "[run]") {
  std::size_t runs = 0;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    const SpeedSeries series = speed_series(Broken(seed).log());
    const Runs found = find_runs(
        series, {.splits = parse_splits("0-30 mph, 10-20 mph, 60 ft"), .include_gentle = seed % 2 == 0});
    runs += found.accepted.size();
    for (const Run& run : found.accepted) {
      CHECK(std::isfinite(run.clock_sd_s));
      for (const Split& split : run.splits) {
        check_figure(split.rollout);
        check_figure(split.movement);
      }
    }
  }
  CHECK(runs > 50);
}
