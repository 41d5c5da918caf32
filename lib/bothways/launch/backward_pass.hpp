#pragma once

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/window.hpp"
#include "bothways/numeric/information.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// The times of a window from the first launch considered on: readings and points between.
struct TimeGrid {
  std::vector<double> t_s;          ///< (n)
  std::vector<int> reading;         ///< (n) index of the reading, -1 for points between
  std::vector<double> jerk_factor;  ///< (n) of the step that ends at a time
  std::vector<double> shown_mps;    ///< (n) speed shown in the middle of the step that ends at a time
  std::size_t moving = 0;           ///< index of the first reading that is surely moving
};
[[nodiscard]] TimeGrid time_grid(const LaunchWindow& window, double early_jerk_factor);

/// The step of dt_s that ends at time k of a grid, with the filter as it is at the speed shown there.
[[nodiscard]] numeric::Transition transition_to(const TimeGrid& grid, std::size_t k,
                                                numeric::MotionModel motion, double dt_s);

/// The backward information filter over a window, from its end to the first reading that surely moves and,
/// where readings are positions, on to the launch: so far all is linear and Gaussian, the same for all launch
/// instants, and its matrices for all shapes. Readings before that are taken by the forward pass. Made for
/// one call of fitting; it refers to the window.
struct BackwardPass {
  const LaunchWindow& window;
  LaunchModel model;                            ///< with the smoothing of the hypothesis
  numeric::State row = numeric::State::Zero();  ///< of its readings
  TimeGrid grid;
  std::size_t linear_from = 0;              ///< from this time of the grid on
  std::vector<numeric::Transition> step;    ///< (n - 1)
  std::vector<numeric::Transition> leap;    ///< (linear_from) to the next reading, or to linear_from
  std::vector<numeric::BackwardGain> gain;  ///< (n - 1) filled from linear_from on
  std::vector<numeric::Information> info;   ///< (n) of the readings from each time on; likewise
};
[[nodiscard]] BackwardPass backward_pass(const LaunchWindow& window, const LaunchModel& model,
                                         const LaunchHypothesis& hypothesis);

/// Variance of a reading in motion.
[[nodiscard]] double variance_in_motion(const BackwardPass& pass, const Reading& reading);

/// Information of the readings from time k >= linear_from on, given that from the next time on and the known
/// input of the step between.
[[nodiscard]] numeric::Information information_before(const BackwardPass& pass, std::size_t k,
                                                      const numeric::Information& next,
                                                      const numeric::State& input);

}  // namespace bothways
