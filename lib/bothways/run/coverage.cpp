// docs/method.md, eq. (5.6): nu = freedom, k = coverage_factor().
#include "bothways/run/coverage.hpp"

#include "bothways/core/duration.hpp"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <utility>

namespace bothways {

namespace {

constexpr double upper = 0.975;

void widen(std::vector<double>& errors, double factor) {
  for (double& error : errors) {
    error *= factor;
  }
}

Estimate widened(const Estimate& estimate, double factor) {
  return {estimate.value, factor * estimate.sd, estimate.value - factor * (estimate.value - estimate.lo95),
          estimate.value + factor * (estimate.hi95 - estimate.value)};
}

void widen(std::vector<Split>& splits, double factor) {
  for (Split& split : splits) {
    split.rollout = as_duration(widened(split.rollout, factor));
    split.movement = as_duration(widened(split.movement, factor));
    if (split.speed_mps) {
      split.speed_mps = widened(*split.speed_mps, factor);
    }
    widen(split.rollout_shared_s, factor);
    widen(split.movement_shared_s, factor);
    widen(split.crossing_shared_s, factor);
  }
}

void widen(std::vector<SpeedEdge>& edges, double factor) {
  for (SpeedEdge& edge : edges) {
    edge.sd_s *= factor;
  }
}

}  // namespace

double coverage_factor(double known_to) {
  const double freedom = 0.5 / (known_to * known_to);
  return boost::math::quantile(boost::math::students_t(freedom), upper) /
         boost::math::quantile(boost::math::normal(), upper);
}

Run widened(Run run, double factor) {
  run.clock_sd_s *= factor;
  run.movement_sd_s *= factor;
  widen(run.splits, factor);
  widen(run.more_splits, factor);
  widen(run.edges, factor);
  widen(run.more_edges, factor);
  widen(run.curve.sd_mps, factor);
  widen(run.curve.sd_mps2, factor);
  return run;
}

}  // namespace bothways
