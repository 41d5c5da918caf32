#include "lib/run/rides.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

sim::Script starts(int count, double top_mph, const sim::Vehicle& vehicle) {
  const double top_mps = top_mph * mps_per_mph;
  sim::Script script;
  for (int i = 0; i < count; ++i) {
    sim::append(script, sim::one_way(top_mps, sim::run_length_m(vehicle, top_mps), 12.0));
  }
  return script;
}

const FourStarts& four_starts() {
  static const FourStarts ride = [] {
    FourStarts out{sim::ride(sim::scooter(), {}, starts(4, 53.0)), {}};
    out.log = sim::receive(out.truth, {}, 61, ride_begin);
    return out;
  }();
  return ride;
}

Runs runs_of(const Log& log, const std::string& splits, bool include_gentle) {
  return find_runs(speed_series(log), {parse_splits(splits), include_gentle});
}

const Split* split_named(const Run& run, const std::string& name) {
  const auto at =
      std::find_if(run.splits.begin(), run.splits.end(), [&](const Split& s) { return s.spec.name == name; });
  return at == run.splits.end() ? nullptr : &*at;
}

const sim::TrueStart* true_start_of(const sim::Truth& truth, const Run& run) {
  const double t_s = seconds_between(ride_begin, run.movement);
  for (const sim::TrueStart& start : truth.starts) {
    if (std::abs(start.movement_s - t_s) < 3.0) {
      return &start;
    }
  }
  return nullptr;
}

Log without(Log log, double from_s, double to_s) {
  std::erase_if(log.fixes, [&](const Fix& fix) {
    const double t_s = seconds_between(ride_begin, fix.time);
    return t_s > from_s && t_s < to_s;
  });
  return log;
}

}  // namespace bothways
