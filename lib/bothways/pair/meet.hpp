#pragma once

#include "bothways/run/run.hpp"

namespace bothways {

/// How two runs lie to each other on the road.
struct Meeting {
  bool placed = false;               ///< both have positions and a direction; else the rest means nothing
  double from_opposite_deg = 180.0;  ///< 0: exactly opposite directions, 180: the same direction
  double sideways_m = 0.0;           ///< between the two tracks, at the middle of the shared stretch
  double overlap = 0.0;              ///< shared timed stretch as a share of the shorter run, 0..1
  double travel_overlap = 0.0;       ///< the same with the way to the stop, braking included
  double between_m = 0.0;            ///< along the road from one stretch to the other, 0 where they overlap
};

/// Whether a run can be placed: position, direction and length known.
[[nodiscard]] bool is_placed(const Run& run);

/// Part of a run, in travel from its start, m.
struct PartOfRun {
  double from_m = 0.0;
  double to_m = 0.0;  ///< > from_m
};

/// Road that the parts of two runs share, as a share of the shorter, 0..1. The runs must be placed.
[[nodiscard]] double shared_part(const Run& one, const PartOfRun& of_one, const Run& other,
                                 const PartOfRun& of_other);

/// Each run is taken as the straight line from its start to its end; the road as the bisector of the two.
[[nodiscard]] Meeting meet(const Run& one, const Run& other);

}  // namespace bothways
