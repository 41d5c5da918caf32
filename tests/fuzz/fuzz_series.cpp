#include "bothways/log/log.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/report/contract.hpp"
#include "bothways/report/result.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/speed/derive.hpp"
#include "bothways/trip/trip.hpp"
#include "fuzz/invariants.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>
#include <utility>

/// Any series of fixes, from speed to pair and out as JSON: two bytes a fix, so that starts, lifts, gaps,
/// wild speeds and jumps of the place are each a few flipped bits away.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using namespace bothways;
using bothways_fuzz::demand;

constexpr std::size_t most_fixes = 600;  // a minute at 10 Hz: work grows with it and nothing else

/// A vehicle that rides north or south as the bytes say, and a receiver that writes what they say.
class Series {
 public:
  Log log(std::span<const std::uint8_t> bytes) {
    Log log;
    log.path = "fuzz";
    if (bytes.empty()) {
      return log;
    }
    const double rates[] = {1.0, 2.0, 5.0, 10.0, 25.0, 0.3, 100.0, 10.0};
    step_s_ = 1.0 / rates[bytes[0] & 7U];
    for (std::size_t i = 1; i + 1 < bytes.size() && log.fixes.size() < most_fixes; i += 2) {
      log.fixes.push_back(fix(bytes[i], static_cast<std::int8_t>(bytes[i + 1])));
    }
    return log;
  }

 private:
  Fix fix(unsigned op, int value) {
    double dt_s = step_s_;
    Fix fix;
    switch (op & 15U) {
      case 11:
        dt_s = std::exp2(value / 8.0);
        break;  // 15 us to 16 hours
      case 12:
        north_m_ += 10.0 * value;
        break;
      case 13:
        heading_ = -heading_;
        break;
      default:
        v_mps_ = std::clamp(v_mps_ + 0.05 * value, 0.0, 120.0);
    }
    t_us_ += std::max<std::int64_t>(1, std::llround(dt_s * 1e6));
    north_m_ += heading_ * v_mps_ * std::min(dt_s, 10.0);
    fix.time.unix_us = t_us_;
    fix.speed_mps = (op & 15U) == 14 ? unknown : (op & 15U) == 15 ? std::abs(7.0 * value) : v_mps_;
    if ((op & 16U) == 0 || !is_known(fix.speed_mps)) {
      fix.lat_deg = std::clamp(-33.0 + north_m_ / 111'000.0, -90.0, 90.0);
      fix.lon_deg = 18.0 + 1e-6 * static_cast<double>(op >> 5U);
    }
    return fix;
  }

  double step_s_ = 0.1;
  double v_mps_ = 0.0;
  double heading_ = 1.0;
  double north_m_ = 0.0;
  std::int64_t t_us_ = 1'780'000'000'000'000;
};

void check(const Estimate& e) {
  demand(std::isfinite(e.value) && std::isfinite(e.sd) && e.sd >= 0.0);
  demand(std::isfinite(e.lo95) && std::isfinite(e.hi95) && e.lo95 <= e.value && e.value <= e.hi95);
}

void check(const Stretch& s) {
  const std::size_t n = s.t_s.size();
  demand(n >= 2 && s.v_mps.size() == n && s.sd_mps.size() == n && s.validity.size() == n);
  demand(s.smooth_mps.size() == n && s.at_rest.size() == n && s.east_m.size() == n);
  for (std::size_t i = 0; i < n; ++i) {
    demand(i == 0 || s.t_s[i - 1] < s.t_s[i]);
    demand(std::isfinite(s.v_mps[i]) && std::isfinite(s.smooth_mps[i]));
    demand(std::isfinite(s.sd_mps[i]) && s.sd_mps[i] > 0.0);
  }
}

void check(const Run& run) {
  demand(std::isfinite(run.movement_sd_s) && std::isfinite(run.clock_sd_s));
  for (const Split& split : run.splits) {
    check(split.rollout);
    check(split.movement);
    demand(split.rollout.value > 0.0 && split.rollout.sd > 0.0);
  }
  for (std::size_t i = 1; i < run.edges.size(); ++i) {
    demand(run.edges[i - 1].v_mps < run.edges[i].v_mps && run.edges[i - 1].t_s < run.edges[i].t_s);
  }
}

void check(const Trip& trip) {
  demand(trip.moving_s >= 0.0 && trip.stopped_s >= 0.0 && std::isfinite(trip.moving_s));
  check(trip.distance_m);
  check(trip.sustained_1s_mps);
  check(trip.sustained_5s_mps);
}

/// The rides numbered, paired and written, as a program reads it.
void check_result(Ride ride, const std::vector<SplitSpec>& splits) {
  Result result{.splits = splits};
  int id = 0;
  for (Run& run : ride.runs.accepted) {
    demand(id == 0 || ride.runs.accepted[static_cast<std::size_t>(id - 1)].movement < run.movement);
    run.id = ++id;
    check(run);
  }
  result.rides.push_back(std::move(ride));
  result.pairs = pair_runs(result.rides);
  result.overall = overall(result.rides, result.pairs, splits);
  demand(2 * result.pairs.made.size() + result.pairs.single.size() == static_cast<std::size_t>(id));
  for (const Pair& pair : result.pairs.made) {
    for (const TwoWay& split : pair.splits) {
      check(split.rollout);
      check(split.movement);
    }
  }
  for (const Overall& row : result.overall) {
    check(row.rollout);
  }
  std::ostringstream out;
  write_result_json(out, result);
  demand(nlohmann::json::accept(out.str()));
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const Log log = Series().log({data, size});
  if (log.fixes.size() < 2) {
    return 0;
  }
  static const std::vector<SplitSpec> splits = parse_splits("0-10 mph, 0-20 mph, 10-20 mph, 60 ft");
  const SpeedSeries series = speed_series(log);
  std::for_each(series.stretches.begin(), series.stretches.end(), [](const Stretch& s) { check(s); });
  check(trip_of(log, series));
  const bool gentle = (data[0] & 8U) != 0;
  check_result(with_runs(look_at(log, series), series, {.splits = splits, .include_gentle = gentle}), splits);
  return 0;
}
