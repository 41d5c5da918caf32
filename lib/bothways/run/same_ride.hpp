#pragma once

#include "bothways/core/note.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/run/trace.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace bothways {

/// Which of two logs of one ride counts.
enum class Better {
  times,    ///< the finer: more fixes a second, reported speed before positions, more fixes
  distance  ///< the longer, then the finer
};

/// A log that recorded what a better one recorded too.
struct SameRide {
  std::size_t worse = 0;   ///< index of the log whose share of the ride does not count
  std::size_t better = 0;  ///< index of the one that counts where both recorded
};

/// Logs of one ride: a copy in another format, an export of a part, a second logger on the same vehicle.
///
/// Two logs are of one ride if they have over half of the shorter's 5 s steps in common and, where both have
/// positions, were within 60 m of each other there: the median over the common steps in which either moved,
/// or over all if neither did. Without a date on both, only if they lie within 1 m of each other at nine in
/// ten of those steps at least, since nobody knows the day. Thresholds: common practice, no source.
/// Each log is held against all better ones. Among equals an export (CSV) comes last, then the path decides.
/// The order of the logs changes nothing but the indices (test "logs of one ride are found in any order").
/// @return  by `worse` from the best log down, the best of its betters first
[[nodiscard]] std::vector<SameRide> same_rides(std::span<const Trace> traces, Better better = Better::times);

/// Leaves out of each ride the runs, and the starts that do not count, that a better log of the same ride
/// recorded too, with one note `same-ride` on it that names both. Copies change no figure (test "a second log
/// of a ride changes no figure").
void leave_out_same_rides(std::vector<Ride>& rides);

/// A note of the same code for a log that is left out as a whole.
[[nodiscard]] Note same_ride_note(const Trace& worse, const Trace& better);

}  // namespace bothways
