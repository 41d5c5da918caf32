#include "lib/report/sample.hpp"

using namespace bothways;

namespace {

constexpr std::int64_t day_us = 1777887000000000;  // 2026-05-04T09:30:00Z

Instant at(double s) {
  return shifted({day_us}, s);
}

Split split(const char* name, double value, double sd) {
  Split s{.spec = parse_splits(name).front(), .rollout = normal_estimate(value, sd)};
  s.movement = s.spec.from_rest() ? normal_estimate(value + 0.6, 0.2) : s.rollout;
  return s;
}

Run run(int id, double t_s, double heading_deg, LatLon place, double slower) {
  Run r{
      .id = id, .movement = at(t_s), .movement_sd_s = 0.2, .clock_start = at(t_s + 0.56), .clock_sd_s = 0.01};
  r.heading_deg = heading_deg;
  r.start = place;
  r.end = place;
  r.length_m = 210.4;
  r.top_speed_mps = 19.2;
  r.splits = {split("0-30 mph", 5.1234 + slower, 0.0153), split("0-40 mph", 8.4412 + slower, 0.0311),
              split("30-40 mph", 3.3178, 0.0234)};
  return r;
}

}  // namespace

Result sample_result() {
  Result result{.splits = parse_splits("0-30 mph, 0-40 mph, 0-50 mph, 30-40 mph")};
  Ride first{.path = "ride.gpx",
             .format = LogFormat::gpx,
             .dated = true,
             .fixes = 24000,
             .first = at(-600),
             .last = at(1800)};
  first.receiver.rate_hz = 10;
  first.runs.accepted = {run(1, 12.34, 87.2, {0.01, 0.02}, 0.0), run(2, 132.8, 266.9, {0.01, 0.0219}, -0.07)};
  first.runs.rejected = {
      {at(-240), {0.005, 0.01}, "rolling-start", "it was still rolling at 8 mph when the throttle opened"},
      {at(500), {unknown, unknown}, "lifted", "the throttle was lifted at 21 mph, before 30 mph"}};
  first.notes = {{"bad-line", "a line was no fix and was left out: \x1b[31mred\x1b[0m", 12}};
  Ride second{.path = "folder/b.nmea",
              .format = LogFormat::nmea,
              .dated = true,
              .fixes = 600,
              .first = at(3000),
              .last = at(3600)};
  second.receiver.rate_hz = 1;
  second.source = SpeedSource::positions;
  second.runs.accepted = {run(3, 3100.5, 90.0, {unknown, unknown}, 0.02)};
  second.runs.accepted[0].splits.resize(1);
  result.rides = {first, second};
  Pair pair{.id = 1, .ride = 0, .other_ride = 0, .first_run = 1, .second_run = 2, .overlap = 0.97};
  pair.splits = {{.spec = parse_splits("0-30 mph").front(),
                  .rollout = normal_estimate(5.0881, 0.0108),
                  .movement = normal_estimate(5.69, 0.14),
                  .as_ridden = normal_estimate(5.0901, 0.01),
                  .as_ridden_movement = normal_estimate(5.692, 0.13),
                  .plain_mean_s = 5.0884,
                  .apart = 0.0138}};
  pair.notes = {{"partners-apart", "the two runs differ by 1.4 %"}};
  result.pairs.made = {pair};
  result.pairs.single = {{1, 3, "no-opposite", "no run in the opposite direction was found"}};
  result.overall = {{.spec = parse_splits("0-30 mph").front(),
                     .pairs = 1,
                     .rollout = normal_estimate(5.0881, 0.0108),
                     .movement = normal_estimate(5.69, 0.14),
                     .as_ridden_s = 5.0901,
                     .as_ridden_movement_s = 5.692,
                     .budget = {.receiver = 0.01, .scatter = 0.008},
                     .budget_movement = {.receiver = 0.01, .scatter = 0.009},
                     .best_one_way_s = 5.0534,
                     .best_one_way_movement_s = 5.6534}};
  return result;
}

Log sample_log(int n) {
  Log log{.path = "ride.csv", .format = LogFormat::csv};
  for (int i = 0; i < n; ++i) {
    Fix fix{.time = at(i)};
    fix.speed_mps = 0.1 * i;
    log.fixes.push_back(fix);
  }
  return log;
}
