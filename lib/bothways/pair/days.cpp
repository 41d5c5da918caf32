#include "bothways/pair/days.hpp"

#include <algorithm>
#include <stdexcept>
#include <tuple>

namespace bothways {

namespace {

struct Stamp {
  int undated = 0;  // 0: dated; else a number of its own for each log without a date
  Instant time;
  int* day = nullptr;
};

void collect(const std::vector<Ride>& rides, const Pairs& pairs, int first_undated, std::vector<int>& days,
             std::vector<Stamp>& stamps) {
  days.assign(pairs.made.size(), 0);
  for (std::size_t k = 0; k < days.size(); ++k) {
    const Pair& pair = pairs.made[k];
    const Run& run = run_of_pair(rides, pair, true);
    const int undated = rides[pair.ride].dated ? 0 : first_undated + static_cast<int>(pair.ride);
    stamps.push_back({undated, run.clock_start, &days[k]});
  }
}

void number_days(std::vector<Stamp>& stamps, double pause_s) {
  std::sort(stamps.begin(), stamps.end(), [](const Stamp& a, const Stamp& b) {
    return std::tie(a.undated, a.time) < std::tie(b.undated, b.time);
  });
  int day = 0;
  for (std::size_t k = 0; k < stamps.size(); ++k) {
    const bool goes_on = k > 0 && stamps[k].undated == stamps[k - 1].undated &&
                         seconds_between(stamps[k - 1].time, stamps[k].time) <= pause_s;
    day += goes_on ? 0 : 1;
    *stamps[k].day = day;
  }
}

}  // namespace

const Run& run_of_pair(const std::vector<Ride>& rides, const Pair& pair, bool first) {
  const std::size_t ride = first ? pair.ride : pair.other_ride;
  const int id = first ? pair.first_run : pair.second_run;
  if (ride < rides.size()) {
    for (const Run& run : rides[ride].runs.accepted) {
      if (run.id == id) {
        return run;
      }
    }
  }
  throw std::invalid_argument("a pair names a run that its rides do not hold");
}

DaysOfSides days_of_sides(const Side& before, const Side& after, double pause_s) {
  DaysOfSides days;
  std::vector<Stamp> stamps;
  collect(before.rides, before.pairs, 1, days.before, stamps);
  collect(after.rides, after.pairs, 1 + static_cast<int>(before.rides.size()), days.after, stamps);
  number_days(stamps, pause_s);
  return days;
}

std::vector<int> days_of_pairs(const std::vector<Ride>& rides, const Pairs& pairs, double pause_s) {
  std::vector<int> days;
  std::vector<Stamp> stamps;
  collect(rides, pairs, 1, days, stamps);
  number_days(stamps, pause_s);
  return days;
}

}  // namespace bothways
