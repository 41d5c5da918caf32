#include "truth/population/judge.hpp"

#include "bothways/core/geodesy.hpp"
#include "bothways/core/units.hpp"
#include "bothways/pair/match.hpp"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <limits>
#include <optional>
#include <stdexcept>

namespace bothways::population {

namespace {

constexpr double start_gain_mps = 2.5;  // a start that gains less is none (docs/method.md, section 3)
constexpr double too_near = 0.93;       // lifted this near below a mark: either answer is right

/// What a start truly was.
enum class Sort { run, other, neither };

bool is_from_rest_at_full_throttle(const sim::TrueStart& start) {
  return start.kind == sim::StartKind::run || start.kind == sim::StartKind::lifted;
}

/// How far towards the nearest mark it came, 1 or more: reached one.
double share_reached(const sim::Truth& truth, const sim::TrueStart& start,
                     const std::vector<SplitSpec>& splits) {
  double most = 0.0;
  for (const SplitSpec& spec : splits) {
    if (spec.from_rest()) {
      const auto* speed = std::get_if<Speed>(&spec.to);
      const double travel_m = truth.rows[start.last_row].s_m - start.s_m;
      most = std::max(
          most, speed != nullptr ? start.top_mps / speed->mps() : travel_m / std::get<Length>(spec.to).m());
    }
  }
  return most;
}

Sort sort_of(const sim::Truth& truth, const sim::TrueStart& start, const std::vector<SplitSpec>& splits) {
  if (!is_from_rest_at_full_throttle(start)) {
    const double began_mps = truth.rows[start.first_row].v_mps;
    return start.top_mps - began_mps > start_gain_mps ? Sort::other : Sort::neither;
  }
  const double share = share_reached(truth, start, splits);
  return share >= 1.0 ? Sort::run : share < too_near ? Sort::other : Sort::neither;
}

/// Index of the true start whose first foot, as the device stamps it, is nearest to the run's.
std::optional<std::size_t> start_of(const Run& run, const sim::Truth& truth, const Device& device,
                                    Instant begin) {
  constexpr double most_apart_s = 4.0;
  const double t_s = seconds_between(begin, run.clock_start) - device.late_s();
  std::optional<std::size_t> best;
  double least_s = most_apart_s;
  for (std::size_t i = 0; i < truth.starts.size(); ++i) {
    const double apart_s = std::abs(truth.starts[i].foot_s - t_s);
    if (apart_s < least_s) {
      least_s = apart_s;
      best = i;
    }
  }
  return best;
}

void score_run(const sim::Truth& truth, const sim::TrueStart& start, const Run& run,
               const std::vector<SplitSpec>& splits, Judged& judged) {
  for (std::size_t k = 0; k < splits.size(); ++k) {
    const auto found = std::find_if(run.splits.begin(), run.splits.end(),
                                    [&](const Split& split) { return split.spec.name == splits[k].name; });
    const auto rollout_s = sim::true_split_s(truth, start, splits[k], Clock::rollout);
    const auto movement_s = sim::true_split_s(truth, start, splits[k], Clock::movement);
    judged.asked_beyond += rollout_s ? 0 : 1;
    if (found == run.splits.end()) {
      continue;
    }
    judged.unreached += rollout_s ? 0 : 1;
    if (rollout_s && movement_s) {
      const int split = static_cast<int>(k);
      judged.figures.push_back(
          {.level = Level::run, .split = split, .found = found->rollout, .true_s = *rollout_s});
      if (found->spec.from_rest()) {
        judged.figures.push_back(
            {.level = Level::movement, .split = split, .found = found->movement, .true_s = *movement_s});
      }
    }
  }
}

/// The reason that the library gives for leaving a start out; empty: none.
std::string reason_for(const sim::TrueStart& start, const Runs& runs, const Device& device, Instant begin) {
  constexpr double near_s = 5.0;
  for (const Rejected& rejected : runs.rejected) {
    if (std::abs(seconds_between(begin, rejected.time) - device.late_s() - start.movement_s) < near_s) {
      return rejected.code;
    }
  }
  return "";
}

/// The mean wind along the road, as the runs tell it.
void judge_wind(const Pairs& pairs, const sim::Road& road, const Weather& weather, Judged& judged) {
  for (const DayWind& wind : pairs.winds) {
    const bool same_way = angle_between_deg(wind.heading_deg, road.heading_deg) < 90.0;
    judged.figures.push_back({.level = Level::wind,
                              .found = wind.along_mps,
                              .true_s = same_way ? weather.wind_mps : -weather.wind_mps,
                              .word = wind.told ? 1 : 0});
  }
}

void judge_pairs(const Ride& ride, const Pairs& pairs, const std::vector<SplitSpec>& splits,
                 const std::vector<double>& level_s, Judged& judged) {
  for (std::size_t k = 0; k < splits.size(); ++k) {
    if (!std::isfinite(level_s[k])) {
      continue;
    }
    const int split = static_cast<int>(k);
    for (const Pair& pair : pairs.made) {
      const auto found = std::find_if(pair.splits.begin(), pair.splits.end(),
                                      [&](const TwoWay& way) { return way.spec.name == splits[k].name; });
      if (found != pair.splits.end()) {
        judged.figures.push_back(
            {.level = Level::pair, .split = split, .found = found->rollout, .true_s = level_s[k]});
      }
    }
    for (const Overall& line : overall({ride}, pairs, {splits[k]})) {
      judged.figures.push_back({.level = Level::result,
                                .split = split,
                                .found = line.rollout,
                                .true_s = level_s[k],
                                .scatter_share = line.pairs > 1 ? line.scatter_s / level_s[k] : -1.0});
    }
  }
}

/// Starts of each sort, and those left out that should not have been. taken (starts): found as runs.
void count_starts(const sim::Truth& truth, const Runs& runs, const Device& device, Instant begin,
                  const std::vector<SplitSpec>& splits, const std::vector<bool>& taken, Judged& judged) {
  for (std::size_t i = 0; i < truth.starts.size(); ++i) {
    const Sort sort = sort_of(truth, truth.starts[i], splits);
    judged.other_starts += sort == Sort::other ? 1 : 0;
    judged.true_runs += sort == Sort::run ? 1 : 0;
    if (sort == Sort::run && !taken[i]) {
      ++judged.missed[reason_for(truth.starts[i], runs, device, begin)];
    }
  }
}

double thread_time_s() {
  std::timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

VehicleKind kind_of(const Machine& machine) {
  constexpr double heaviest_scooter_kg = 230.0;  // with its rider
  if (machine.name == "electric") {
    return machine.vehicle.mass_kg < heaviest_scooter_kg ? VehicleKind::scooter : VehicleKind::motorcycle;
  }
  return parse_vehicle_kind(machine.name);
}

std::optional<Conditions> conditions_of(const Machine& machine, Said said) {
  Conditions conditions;
  if (said.kind) {
    conditions.kind = kind_of(machine);
  }
  if (said.mass) {
    conditions.total_mass_kg = machine.vehicle.mass_kg;
  }
  return conditions.empty() ? std::nullopt : std::optional(conditions);
}

}  // namespace

std::vector<double> level_times_s(const Machine& machine, double air_kg_m3) {
  const sim::Truth level = level_start(machine, air_kg_m3);
  std::vector<double> times;
  for (const SplitSpec& spec : machine.splits) {
    times.push_back(sim::true_split_s(level, level.starts.at(0), spec, Clock::rollout)
                        .value_or(std::numeric_limits<double>::quiet_NaN()));
  }
  return times;
}

void judge_runs(const sim::Truth& truth, const Ride& ride, const Device& device, Instant begin,
                const std::vector<SplitSpec>& splits, Judged& judged) {
  std::vector<bool> taken(truth.starts.size(), false);
  for (const Run& run : ride.runs.accepted) {
    const auto i = start_of(run, truth, device, begin);
    const Sort sort = i ? sort_of(truth, truth.starts[*i], splits) : Sort::other;
    if (sort == Sort::run && !taken[*i]) {
      taken[*i] = true;
      ++judged.found_runs;
      score_run(truth, truth.starts[*i], run, splits, judged);
    } else if (sort != Sort::neither) {
      ++judged.false_runs;
      ++judged.taken[i ? (taken[*i] ? "twice" : sim::to_string(truth.starts[*i].kind)) : "no start"];
    }
  }
  count_starts(truth, ride.runs, device, begin, splits, taken, judged);
}

RiddenLog ride_and_record(Kind kind, std::uint64_t seed, std::uint64_t index) {
  sim::Random random(mixed(seed, index, 4));
  return ride_and_record(draw_device(kind, random), seed, index);
}

RiddenLog ride_and_record(const Device& device, std::uint64_t seed, std::uint64_t index) {
  sim::Random random(mixed(seed, index, 1));
  constexpr int most_draws = 200;
  for (int draw = 0; draw < most_draws; ++draw) {
    RiddenLog ridden{.device = device,
                     .machine = draw_machine(random),
                     .road = draw_road(random),
                     .weather = draw_weather(random)};
    const Plan plan{.pairs = random.integer(3, 5), .traffic = true};
    try {
      ridden.truth = draw_ride(ridden.machine, ridden.road, ridden.weather, plan, mixed(seed, index, 2));
    } catch (const std::invalid_argument&) {
      continue;  // nobody rides a moped up such a hill against such a wind
    }
    ridden.log = record(ridden.truth, device, mixed(seed, index, 3), morning);
    return ridden;
  }
  throw std::logic_error("no machine could go where it was sent");
}

Judged judge(const RiddenLog& ridden, Said said) {
  Judged judged;
  judged.traits = traits_of(ridden.device, ridden.machine, ridden.road, ridden.weather);
  const std::vector<SplitSpec>& splits = ridden.machine.splits;
  const double before_s = thread_time_s();
  Ride ride = analyse(ridden.log, {.splits = splits});
  judged.find_s = thread_time_s() - before_s;
  ride.conditions = conditions_of(ridden.machine, said);
  judge_runs(ridden.truth, ride, ridden.device, morning, splits, judged);
  const Pairs pairs = pair_runs({ride});
  judge_pairs(ride, pairs, splits, level_times_s(ridden.machine, ridden.weather.air_kg_m3), judged);
  judge_wind(pairs, ridden.road, ridden.weather, judged);
  return judged;
}

}  // namespace bothways::population
