#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/run/same_ride.hpp"
#include "truth/population/judge.hpp"
#include "truth/population/ranges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace bothways::population {

namespace {

constexpr double hour_s = 3600.0;
constexpr double day_s = 24.0 * hour_s;

/// One log of a couple: which side, when, in what weather, how many pairs.
struct Session {
  bool after = false;
  double begin_s = 0.0;
  Weather weather;
  int pairs = 0;
};

Weather with_day(Weather weather, sim::Random& random, const Range& day_sd) {
  weather.day_drive = 1.0 + even(random, day_sd) * random.normal();
  return weather;
}

/// One log a side an hour apart; or in turns, a log each time; or on two days, each with weather of its own.
std::vector<Session> sessions_of(Days days, int pairs, double air_kg_m3, sim::Random& random) {
  Weather first = draw_weather(random);
  first.air_kg_m3 = air_kg_m3;
  if (days == Days::two_days) {
    Weather second = draw_weather(random);
    second.air_kg_m3 = air_kg_m3;
    return {{false, 0.0, with_day(first, random, range::day_scatter), pairs},
            {true, day_s * random.integer(1, 9), with_day(second, random, range::day_scatter), pairs}};
  }
  if (days == Days::blocks) {
    return {{false, 0.0, first, pairs}, {true, 1.5 * hour_s, later(first, random), pairs}};
  }
  std::vector<Session> turns;
  Weather weather = first;
  for (int turn = 0; turn < pairs; ++turn) {
    for (const bool after : {false, true}) {
      turns.push_back({after, 0.5 * hour_s * static_cast<double>(turns.size()), weather, 1});
      weather = later(weather, random);
    }
  }
  return turns;
}

Machine changed(Machine machine, double change) {
  machine.vehicle.pull_N *= 1.0 + change;
  machine.vehicle.power_W *= 1.0 + change;
  return machine;
}

Side side_of(const char* name, std::vector<Ride> rides) {
  Side side{.name = name, .rides = std::move(rides)};
  leave_out_same_rides(side.rides);
  int id = 0;
  for (Ride& ride : side.rides) {
    for (Run& run : ride.runs.accepted) {
      run.id = ++id;
    }
  }
  side.pairs = pair_runs(side.rides);
  return side;
}

int word_of(Verdict verdict) {
  return verdict == Verdict::quicker ? -1 : verdict == Verdict::slower ? 1 : 0;
}

Ridden ridden_as(Days days) {
  switch (days) {
    case Days::turns:
      return Ridden::turns;
    case Days::two_days:
      return Ridden::two_days;
    case Days::blocks:
      break;
  }
  return Ridden::blocks;
}

/// What plan promises a rider who knows the side before, and rides so many pairs a side.
double promise(const Side& before, const Difference& row, double true_s, Days days) {
  const PlanBasis basis = plan_basis(before, row.spec);
  const int pairs = std::min(row.pairs_before, row.pairs_after);
  return power_of(telling_of(basis, pairs, ridden_as(days)), std::abs(true_s));
}

void score(const Side& before, const Comparison& comparison, const std::vector<SplitSpec>& splits,
           const std::vector<double>& before_s, const std::vector<double>& after_s, Judged& judged) {
  for (const Difference& row : comparison.differences) {
    const auto spec = std::find_if(splits.begin(), splits.end(),
                                   [&](const SplitSpec& s) { return s.name == row.spec.name; });
    const auto k = static_cast<std::size_t>(spec - splits.begin());
    if (!std::isfinite(before_s[k]) || !std::isfinite(after_s[k])) {
      continue;
    }
    const int split = static_cast<int>(k);
    judged.figures.push_back(
        {.level = Level::side, .split = split, .found = row.before, .true_s = before_s[k]});
    judged.figures.push_back(
        {.level = Level::side, .split = split, .found = row.after, .true_s = after_s[k]});
    const double true_s = after_s[k] - before_s[k];
    judged.figures.push_back({.level = Level::difference,
                              .split = split,
                              .found = row.difference,
                              .true_s = true_s,
                              .word = word_of(row.verdict),
                              .main = row.main,
                              .promised = row.main ? promise(before, row, true_s, judged.days) : -1.0});
  }
}

/// A couple as drawn: everything but the machine's luck with the weather.
struct Couple {
  Device device;
  Machine before;
  Machine after;
  sim::Road road;
  std::vector<Session> sessions;
};

const Machine& machine_of(const Couple& couple, const Session& session) {
  return session.after ? couple.after : couple.before;
}

/// @throws std::invalid_argument  if the machine cannot go there in that weather.
std::vector<sim::Truth> truths_of(const Couple& couple, std::uint64_t seed, std::uint64_t index) {
  std::vector<sim::Truth> truths;
  for (const Session& session : couple.sessions) {
    truths.push_back(draw_ride(machine_of(couple, session), couple.road, session.weather,
                               {.pairs = session.pairs, .traffic = false},
                               mixed(seed, index, 20 + truths.size())));
  }
  return truths;
}

std::array<std::vector<Ride>, 2> ridden(const Couple& couple, const std::vector<sim::Truth>& truths,
                                        std::uint64_t seed, std::uint64_t index, Judged& judged) {
  std::array<std::vector<Ride>, 2> rides;
  for (std::size_t i = 0; i < couple.sessions.size(); ++i) {
    const Session& session = couple.sessions[i];
    const auto& splits = machine_of(couple, session).splits;
    const Instant begin = shifted(morning, session.begin_s);
    const Log log = record(truths[i], couple.device, mixed(seed, index, 40 + i), begin);
    Ride ride = analyse(log, {.splits = splits});
    judge_runs(truths[i], ride, couple.device, begin, splits, judged);
    ride.path = "simulated " + std::to_string(i);
    rides[session.after ? 1 : 0].push_back(std::move(ride));
  }
  return rides;
}

}  // namespace

Judged judge_couple(Kind kind, std::uint64_t seed, std::uint64_t index) {
  sim::Random random(mixed(seed, index, 10));
  Judged judged;
  judged.change =
      drive_changes[index / 3 % drive_changes.size()];  // every change with every way of riding alike
  judged.days = static_cast<Days>(index % 3);
  judged.pairs_a_side = random.integer(2, 5);
  Couple couple;
  couple.device = draw_device(kind, random);
  constexpr int most_draws = 200;
  for (int draw = 0; draw < most_draws; ++draw) {
    couple.before = draw_machine(random);
    couple.after = changed(couple.before, judged.change);
    couple.road = draw_road(random);
    const double air_kg_m3 = even(random, range::air_kg_m3);
    couple.sessions = sessions_of(judged.days, judged.pairs_a_side, air_kg_m3, random);
    Judged tried = judged;
    tried.traits = traits_of(couple.device, couple.before, couple.road, couple.sessions.front().weather);
    std::vector<sim::Truth> truths;
    try {
      truths = truths_of(couple, seed, index);
    } catch (const std::invalid_argument&) {
      continue;  // as in ride_and_record()
    }
    auto rides = ridden(couple, truths, seed, index, tried);
    const std::vector<Side> sides{side_of("before", std::move(rides[0])),
                                  side_of("after", std::move(rides[1]))};
    score(sides.front(), compare(sides, couple.before.splits).front(), couple.before.splits,
          level_times_s(couple.before, air_kg_m3), level_times_s(couple.after, air_kg_m3), tried);
    std::erase_if(tried.figures,
                  [](const Figure& f) { return f.level == Level::run || f.level == Level::movement; });
    return tried;
  }
  throw std::logic_error("no machine could go where it was sent");
}

}  // namespace bothways::population
