#include "cli/looks.hpp"

#include "bothways/core/usual_splits.hpp"
#include "bothways/report/words.hpp"
#include "bothways/run/turns.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <utility>

namespace bothways::cli {

std::vector<SplitSpec> chosen_splits(const Looks& looks, const AnalysisOptions& options) {
  std::map<std::size_t, std::vector<const Ride*>> sides;
  for (const Look& look : looks) {
    if (look.side != no_side) {
      sides[look.side].push_back(&look.ride);
    }
  }
  double least_mps = 0.0;
  for (const auto& [side, rides] : sides) {
    const double side_mps = reach_mps(rides);
    least_mps =
        least_mps > 0.0 && side_mps > 0.0 ? std::min(least_mps, side_mps) : std::max(least_mps, side_mps);
  }
  std::vector<SplitSpec> splits = usual_splits(least_mps, options.metric);
  for (const SplitSpec& also : options.also) {
    if (std::none_of(splits.begin(), splits.end(), [&](const SplitSpec& s) { return s.name == also.name; })) {
      splits.push_back(also);
    }
  }
  return splits;
}

BySetup by_setup(const std::vector<const Ride*>& rides) {
  std::vector<std::size_t> in_time(rides.size());
  std::iota(in_time.begin(), in_time.end(), std::size_t{0});
  std::stable_sort(in_time.begin(), in_time.end(),
                   [&](std::size_t a, std::size_t b) { return is_ridden_before(*rides[a], *rides[b]); });
  BySetup all{.sides = std::vector<std::size_t>(rides.size(), no_side)};
  for (const std::size_t i : in_time) {
    const std::string setup = setup_of(*rides[i]);
    if (setup.empty()) {
      continue;
    }
    auto found = std::find(all.setups.begin(), all.setups.end(), setup);
    if (found == all.setups.end()) {
      found = all.setups.insert(all.setups.end(), setup);
    }
    all.sides[i] = static_cast<std::size_t>(found - all.setups.begin());
  }
  return all;
}

void drop_idle_parts(Looks& looks) {
  std::vector<Note> carried;
  Looks kept;
  for (Look& look : looks) {
    Ride& ride = look.ride;
    const bool idle = look.between && ride.runs.accepted.empty() && ride.runs.rejected.empty();
    if (idle && looks.size() > 1) {
      std::move(ride.notes.begin(), ride.notes.end(), std::back_inserter(carried));
      continue;
    }
    ride.notes.insert(ride.notes.begin(), carried.begin(), carried.end());
    carried.clear();
    if (look.between && !ride.runs.accepted.empty() && setup_of(ride).empty()) {
      ride.notes.push_back({"outside-sections",
                            count_of(ride.runs.accepted.size(), "run lies", "runs lie") +
                                " outside the times of the conditions, so the set-up is not told.",
                            0});
    }
    kept.push_back(std::move(look));
  }
  if (!kept.empty()) {
    auto& notes = kept.back().ride.notes;
    notes.insert(notes.end(), carried.begin(), carried.end());
    looks = std::move(kept);
  }
}

void number_turns(Analysed& all) {
  const bool several = std::any_of(all.sides.begin(), all.sides.end(), [](std::size_t s) { return s > 0; });
  std::vector<std::string> setups;
  for (std::size_t i = 0; i < all.rides.size(); ++i) {
    const std::string side = all.sides[i] == no_side ? "" : std::to_string(all.sides[i]);
    setups.push_back(several ? side : setup_of(all.rides[i]));
  }
  bothways::number_turns(all.rides, setups);
}

}  // namespace bothways::cli
