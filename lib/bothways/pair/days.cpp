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

void collect(const Side& side, int first_undated, std::vector<int>& days, std::vector<Stamp>& stamps) {
  days.assign(side.pairs.made.size(), 0);
  for (std::size_t k = 0; k < days.size(); ++k) {
    const Pair& pair = side.pairs.made[k];
    const Run& run = run_of_pair(side, pair, true);
    const int undated = side.rides[pair.ride].dated ? 0 : first_undated + static_cast<int>(pair.ride);
    stamps.push_back({undated, run.clock_start, &days[k]});
  }
}

}  // namespace

const Run& run_of_pair(const Side& side, const Pair& pair, bool first) {
  const std::size_t ride = first ? pair.ride : pair.other_ride;
  const int id = first ? pair.first_run : pair.second_run;
  if (ride < side.rides.size()) {
    for (const Run& run : side.rides[ride].runs.accepted) {
      if (run.id == id) {
        return run;
      }
    }
  }
  throw std::invalid_argument("a pair names a run that its side does not hold");
}

DaysOfSides days_of_sides(const Side& before, const Side& after, double pause_s) {
  DaysOfSides days;
  std::vector<Stamp> stamps;
  collect(before, 1, days.before, stamps);
  collect(after, 1 + static_cast<int>(before.rides.size()), days.after, stamps);
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
  return days;
}

}  // namespace bothways
