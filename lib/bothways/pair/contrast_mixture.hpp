#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/numeric/mixture.hpp"
#include "bothways/pair/mixed_model.hpp"

#include <vector>

namespace bothways {

/// What is known of a contrast of the sides' figures, s: a mixture of some tens of normals.
/// @param common  variance that no scatter has a part in, s^2
[[nodiscard]] numeric::Mixture mixture_of(const MixedPosterior& posterior, const Contrast& contrast,
                                          double common);

/// The same of what scatters a single pair about its time, as all pairs together show it, s.
[[nodiscard]] numeric::Mixture scatter_mixture(const MixedPosterior& posterior);

[[nodiscard]] Estimate estimate_of(const numeric::Mixture& parts);

/// Twice the smaller of the two tails beyond zero.
[[nodiscard]] double p_value_of(const numeric::Mixture& parts);

}  // namespace bothways
