#pragma once

#include "bothways/log/log.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// Repeated rows, a zero-order hold: some recorders write rows faster than the receiver gives readings, and
/// show the last reading again, place and speed unchanged, under the row's own time.
struct Repetition {
  double period_s = 1.0;  ///< between readings, mean, > 0
  double row_s = 0.1;     ///< between rows, median, > 0, below `period_s`
};

/// Finds out whether rows repeat readings: in motion a row that jumps by three written steps or more, in
/// speed or in place, is followed by one equal to it. Rest, and a steady speed in coarse steps, prove
/// nothing.
/// @param fixes           in order of time, with speeds, or with places only
/// @param speed_step_mps  of the written speed; 0: finer than matters
[[nodiscard]] std::optional<Repetition> repetition_of(const std::vector<const Fix*>& fixes,
                                                      double speed_step_mps);

/// The readings, each at the first row that shows it. Where first rows stand within a row of an even beat,
/// the times are those of the beat: a first row comes up to a row after its reading. Of a reading held at
/// rest, and of equal speeds without places, one row a period stays; else a long block is a loss, and only
/// its first row stays. Rows that a pause of the recorder leaves out are not made up for.
[[nodiscard]] std::vector<Fix> first_showings(const std::vector<const Fix*>& fixes,
                                              const Repetition& repetition);

}  // namespace bothways
