#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/curve.hpp"
#include "bothways/pair/pair.hpp"

#include <vector>

namespace bothways {

/// How the two-way time of a split goes with small changes of the two runs' accelerations, eq. (6.6):
///     dT = -sum of k_b (da_out + da_back) / 2.
/// @return  empty where the curve does not reach the split
[[nodiscard]] std::vector<SensitiveBand> sensitivity_of(const MeanCourse& curve, const SplitSpec& spec);

}  // namespace bothways
