#pragma once

#include "bothways/run/ride.hpp"
#include "bothways/speed/series.hpp"
#include "cli/pipeline.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bothways::cli {

// What analyse_logs() knows of each log, or part of one, on the way.

/// A log, or a part of one, of which the starts are not judged yet, or are.
struct Look {
  Ride ride;
  std::optional<SpeedSeries> series;  ///< nothing: its runs are found, or it is to be read again
  std::size_t side = 0;
  bool between = false;   ///< no section of the conditions is about it
  bool remember = false;  ///< kept in the store: all of a log, or a part that sections make
};

using Looks = std::vector<Look>;

/// The splits that nobody asked for: marks that the starts of every side reach.
[[nodiscard]] std::vector<SplitSpec> chosen_splits(const Looks& looks, const AnalysisOptions& options);

/// Rides by the set-up that their conditions name.
struct BySetup {
  std::vector<std::string> setups;  ///< in order of time
  std::vector<std::size_t> sides;   ///< (rides) index into setups, or `no_side`
};

[[nodiscard]] BySetup by_setup(const std::vector<const Ride*>& rides);

/// Leaves out what lies between sections without a start; its notes go to the part after it. Runs between
/// sections get a note.
void drop_idle_parts(Looks& looks);

/// Numbers the turns by what tells set-ups apart here: the sides, or else the conditions.
void number_turns(Analysed& all);

}  // namespace bothways::cli
