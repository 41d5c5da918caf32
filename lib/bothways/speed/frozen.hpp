#pragma once

#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// The step in which the log writes positions, m: the smallest move between two samples along the axis where
/// that is coarser. Infinite where none moves.
[[nodiscard]] double position_step_m(const std::vector<Stretch>& stretches);

/// Which samples have the place of a neighbour to the last digit, for so long that a vehicle as fast as
/// `below_mps` would have shown a step: what most phones write of one that stands, and other receivers that
/// hold a position at rest (static hold).
/// @param stretch  with positions
/// @return (n) 1: frozen
[[nodiscard]] std::vector<char> frozen_samples(const Stretch& stretch, double step_m, double below_mps);

/// A receiver that holds its place at rest has written it for so long at least, s; two rows of a fast log may
/// be alike by chance.
inline constexpr double least_hold_s = 1.5;

/// Fills `frozen` of every stretch of a series from positions; the speed is 0 there, for a smoothed one
/// begins to rise before the place does.
void mark_frozen(SpeedSeries& series);

}  // namespace bothways
