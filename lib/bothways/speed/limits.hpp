#pragma once

#include "bothways/log/log.hpp"

#include <cstddef>

namespace bothways {

/// What no small vehicle can do: every limit by which a sample is called an outlier (outliers.hpp,
/// unreachable.hpp, position_jumps.hpp; docs/method.md, section 1). Later stages read the verdict in
/// Stretch::validity. Where no source is named it is common practice, no source.
struct OutlierLimits {
  /// Readers leave out what is faster; speeds from positions are judged by it here.
  static constexpr double fastest_mps = fastest_speed_mps;

  // One or a few samples that stand out against both neighbours: spikes.
  static constexpr double most_accel_mps2 = 14.0;   ///< 1.4 g: no tyre of a small vehicle holds more
  static constexpr double patch_accel_mps2 = 10.0;  ///< of several: gaining 1 g, none loses 1 g at once
  static constexpr double patch_s = 1.0;            ///< several samples are no longer than this
  static constexpr std::size_t patch_samples = 3;   ///< and no more than this
  static constexpr double least_step_s = 0.1;  ///< stamps jitter: neighbours count as at least this apart

  // Between a jump and the jump back: excursions.
  static constexpr double jump_mps = 6.0;              ///< beyond any noise seen
  static constexpr double longest_excursion_s = 12.0;  ///< jammed or blind receivers recover sooner
  static constexpr double driven_mps2 = 8.0;  ///< what a vehicle may have gained or lost meanwhile: 0.8 g
  static constexpr std::size_t most_samples = 1000;  ///< in that time: 80 a second, no receiver is quicker

  // Pieces that cannot follow each other: unreachable.
  static constexpr double slack_mps = 0.5;  ///< beside the noise: what smoothing inside does to a change
  static constexpr double slack_sds = 4.0;  ///< of the receiver's noise: one in 16,000 by chance
  static constexpr double longest_piece_s = 60.0;  ///< longer: nothing says which side of a jump is right

  // Positions alone: the speed of a step between two fixes over that of the steps beside it.
  static constexpr double position_jump_mps = 5.0;  ///< beyond the noise of speeds between neighbouring fixes
  static constexpr double position_jump_mps2 = 7.0;  ///< half of most_accel_mps2, between middles of steps
  static constexpr double position_jump_sds = 5.0;   ///< of such speeds in the log itself, if that is more
  static constexpr double bad_position_m = 0.5;      ///< own accuracy: better ones are never called bad
};

/// What counts as at rest: a smoothed speed below `sds` times the noise at rest, within bounds (rest.hpp;
/// docs/method.md, (3.1)). Common practice, no source.
struct RestLimits {
  static constexpr double sds = 4.0;         ///< of the noise at rest: one reading in 16,000 is above
  static constexpr double held_sds = 3.0;    ///< of a receiver that holds zero: most readings are 0 anyway
  static constexpr double least_mps = 0.15;  ///< rocking on the spot is no ride
  static constexpr double least_held_mps = 0.1;
  static constexpr double most_mps = 1.2;                ///< 4 km/h: walking pace is no rest
  static constexpr double least_of_positions_mps = 0.5;  ///< positions wander
  static constexpr double most_of_positions_mps = 1.5;

  // The first look, before the noise at rest is known; only the noise is estimated from what lies below.
  static constexpr double first_look_least_mps = 0.3;
  static constexpr double first_look_most_mps = 1.0;
  static constexpr double first_look_of_positions_mps = 0.6;
  static constexpr double least_stop_s = 2.0;  ///< a shorter one is turning round, not standing
  static constexpr double stop_end_s = 0.5;    ///< of either end is left out: it may still roll
};

}  // namespace bothways
