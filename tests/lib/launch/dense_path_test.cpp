// The smoothed path of a launch, its covariances and its likelihood against the joint normal of all states
// and readings, written out without any filter (docs/method.md, section 4).

#include "bothways/launch/posterior.hpp"
#include "lib/launch/dense_rides.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using numeric::DensePosterior;
using numeric::State;
using numeric::StateMatrix;

namespace {

constexpr double relative = 1e-6;
constexpr double dense_error = 1e-5;  // what the joint normal itself is off by, over `relative`

/// Largest difference of two covariances in units of the sds.
double worst(const StateMatrix& one, const StateMatrix& other, const State& sd, const State& other_sd) {
  double out = 0.0;
  for (int i = 0; i < numeric::state_size; ++i) {
    for (int k = 0; k < numeric::state_size; ++k) {
      out = std::max(out, std::abs(one(i, k) - other(i, k)) / (sd(i) * other_sd(k) + dense_error));
    }
  }
  return out;
}

State sds(const DensePosterior& dense, std::size_t i) {
  const auto at = static_cast<Eigen::Index>(i);
  return dense.block(at, at).diagonal().cwiseMax(0.0).cwiseSqrt();
}

/// Means, covariances, and the covariance of each point with each earlier one.
void check_path(const SmoothedPath& path, const DensePosterior& dense) {
  for (std::size_t i = 0; i < path.t_s.size(); ++i) {
    const State sd = sds(dense, i);
    const auto at = static_cast<Eigen::Index>(i);
    CAPTURE(i, path.t_s[i]);
    const State off = (path.mean[i] - dense.state(at)).cwiseAbs();
    CHECK((off.array() / (sd.array() + 1e-9)).maxCoeff() < relative);
    CHECK(worst(path.cov[i], dense.block(at, at), sd, sd) < relative);
  }
  for (const std::size_t from : {std::size_t{0}, std::size_t{3}, path.t_s.size() / 2}) {
    StateMatrix cov = path.cov[from];
    for (std::size_t i = from; i < path.t_s.size(); ++i) {
      const StateMatrix exact = dense.block(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(from));
      CAPTURE(from, i);
      CHECK(worst(cov, exact, sds(dense, i), sds(dense, from)) < relative);
      cov = i < path.lagged.size() ? StateMatrix(path.lagged[i] * cov) : cov;
    }
  }
}

}  // namespace

TEST_CASE("the smoothed path and its likelihood are those of the joint normal of all states", "[launch]") {
  for (const DenseCase& c : dense_cases()) {
    const DenseLaunch launch = c.launch(0);
    const LaunchHypothesis& h = c.hypotheses[0].hypothesis;
    const BackwardPass pass = backward_pass(c.window, c.model, h);
    for (const double t0_s : {c.window.range.latest_s - 0.09, c.window.range.latest_s - 0.02}) {
      CAPTURE(c.name, t0_s);
      const SmoothedPath path = smoothed_path(pass, h.shape, t0_s);
      REQUIRE(path.t_s.front() == t0_s);
      const DensePosterior dense = dense_posterior(dense_ride(launch, path.t_s, c.slow_error(launch, t0_s)));
      check_path(path, dense);
      CHECK_THAT(launch_log_likelihood(pass, h.shape, t0_s),
                 WithinAbs(c.log_likelihood_at_rest(launch, t0_s) + dense.log_likelihood, relative));
    }
  }
}

TEST_CASE("readings near rest stand in the path as the measurements of the same effect", "[launch]") {
  const DenseCase c = dense_case("speeds, near rest", false, 0.0, 0.04, 0.7);
  const DenseLaunch launch = c.launch(1);
  const LaunchHypothesis& h = c.hypotheses[1].hypothesis;
  const BackwardPass pass = backward_pass(c.window, c.model, h);
  const double t0_s = c.window.range.latest_s - 0.46;
  const ForwardPass forward = forward_pass(pass, launch_entry(pass, h.shape, t0_s));
  REQUIRE(forward.site.size() >= 4);
  for (const auto& site : forward.site) {
    REQUIRE(site);  // under this hypothesis each reading says something
  }
  const SmoothedPath path = smoothed_path(pass, h.shape, t0_s);
  check_path(path, dense_posterior(dense_ride(launch, path.t_s, c.slow_error(launch, t0_s), forward.site)));

  // The forward filter's state is that of the joint normal of what came before it.
  const std::size_t at = forward.site.size() + 1;
  const std::vector<double> until(path.t_s.begin(), path.t_s.begin() + static_cast<std::ptrdiff_t>(at) + 1);
  std::vector<std::optional<numeric::Measurement>> sites = forward.site;
  sites.emplace_back();  // the reading there is not taken yet
  const DensePosterior dense = dense_posterior(dense_ride(launch, until, c.slow_error(launch, t0_s), sites));
  const auto last = static_cast<Eigen::Index>(at);
  const State sd = sds(dense, at);
  CHECK(((forward.state.mean - dense.state(last)).array().abs() / sd.array()).maxCoeff() < relative);
  CHECK(worst(forward.state.cov, dense.block(last, last), sd, sd) < relative);
}

TEST_CASE("the weight of a path is that of its hypothesis and its likelihood under the joint normal",
          "[launch]") {
  for (const DenseCase& c : dense_cases()) {
    const LaunchPosterior posterior = launch_posterior(c.window, c.model, {c.hypotheses[0]});
    REQUIRE(posterior.paths.size() >= 3);
    const DenseLaunch launch = c.launch(0);
    std::vector<double> log_likelihood;
    for (const SmoothedPath& path : posterior.paths) {
      const double t0_s = path.t_s.front();
      const DensePosterior dense = dense_posterior(dense_ride(launch, path.t_s, c.slow_error(launch, t0_s)));
      log_likelihood.push_back(c.log_likelihood_at_rest(launch, t0_s) + dense.log_likelihood);
    }
    for (std::size_t i = 1; i < posterior.paths.size(); ++i) {
      CAPTURE(c.name, i);
      CHECK_THAT(std::log(posterior.paths[i].weight / posterior.paths[0].weight),
                 WithinAbs(log_likelihood[i] - log_likelihood[0], relative));
    }
  }
}
