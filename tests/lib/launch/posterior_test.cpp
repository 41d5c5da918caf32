#include "bothways/launch/posterior.hpp"

#include "bothways/launch/forward_pass.hpp"
#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("the weights of the launch instants sum to 1 and hold the true instant", "[launch]") {
  int held = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const double t0_s = 3.0 + 0.01 * static_cast<double>(seed % 10);
    const LaunchWindow window = constant_start(t0_s, 3.0, 0.05, seed);
    const InstantPosterior instants = instant_posteriors(window, model_for(0.05), {at_once()}).front();
    CHECK_THAT(std::accumulate(instants.weight.begin(), instants.weight.end(), 0.0), WithinAbs(1.0, 1e-12));
    double square = 0.0;
    for (std::size_t i = 0; i < instants.t0_s.size(); ++i) {
      square += instants.weight[i] * instants.t0_s[i] * instants.t0_s[i];
    }
    const double mean = instants.mean_s();
    const double sd =
        std::sqrt(std::max(0.0, square - mean * mean) + instants.spacing_s * instants.spacing_s / 12.0);
    held += std::abs(mean - t0_s) < 1.96 * sd ? 1 : 0;
  }
  CHECK(held >= 34);  // of 40; 38 expected, sd 1.4
}

TEST_CASE("the weight of a launch instant is its likelihood, up to one constant", "[launch]") {
  const LaunchWindow window = constant_start(3.04, 3.0, 0.05, 3);
  const LaunchModel model = model_for(0.05);
  const LaunchHypothesis h = at_once();
  const InstantPosterior instants = instant_posteriors(window, model, {h}).front();
  const BackwardPass pass = backward_pass(window, model, h);
  const double first = launch_log_likelihood(pass, h.shape, instants.t0_s[0]);
  for (std::size_t i = 0; i < instants.t0_s.size(); ++i) {
    const double here = launch_log_likelihood(pass, h.shape, instants.t0_s[i]);
    CHECK_THAT(here - first, WithinAbs(std::log(instants.weight[i] / instants.weight[0]), 1e-9));
  }
}

TEST_CASE("the smoothed motion begins at rest and follows the true speed", "[launch]") {
  const LaunchWindow window = constant_start(3.0, 3.0, 0.02, 4);
  const LaunchPosterior posterior = launch_posterior(window, model_for(0.02), {{at_once()}});
  REQUIRE_FALSE(posterior.paths.empty());
  for (const SmoothedPath& path : posterior.paths) {
    CHECK_THAT(path.mean.front()(numeric::i_s), WithinAbs(0.0, 1e-12));
    CHECK_THAT(path.mean.front()(numeric::i_v), WithinAbs(0.0, 1e-12));
    for (std::size_t k = 0; k < path.t_s.size(); ++k) {
      if (path.t_s[k] > 3.5) {
        CHECK_THAT(path.mean[k](numeric::i_v), WithinAbs(3.0 * (path.t_s[k] - 3.0), 0.08));  // 4 sd
      }
    }
  }
}

TEST_CASE("the evidence of a hypothesis is the same alone and beside others", "[launch]") {
  const LaunchWindow window = constant_start(3.0, 3.0, 0.05, 5);
  const LaunchModel model = model_for(0.05);
  LaunchHypothesis creep = at_once();
  creep.shape.a_mps2 = {0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 3.0};
  creep.shape.sd_mps2 = 0.4;
  LaunchHypothesis lagged = creep;
  lagged.filter.lag_s = 0.2;
  const std::vector<LaunchHypothesis> all{at_once(), creep, lagged, creep};
  const auto together = instant_posteriors(window, model, all, {14, 7});
  REQUIRE(together.size() == 4);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto alone = instant_posteriors(window, model, {all[i]}, {14, 7});
    CHECK(together[i].log_evidence == alone.front().log_evidence);
  }
}

TEST_CASE("a shape runs in straight lines between its points and stays at its last", "[launch]") {
  LaunchShape shape;
  shape.step_s = 0.1;
  shape.a_mps2 = {0.0, 1.0, 3.0};
  CHECK(shape.length_s() == 0.2);
  CHECK(shape.at(-1.0) == 0.0);
  CHECK_THAT(shape.at(0.05), WithinAbs(0.5, 1e-12));
  CHECK_THAT(shape.at(0.15), WithinAbs(2.0, 1e-12));
  CHECK(shape.at(9.0) == 3.0);
}

TEST_CASE(
    "censored readings after the launch leave the instant open between the last zero and the first speed",
    "[launch]") {
  // 1 Hz, held below 2 m/s: all instants in the last second but one are possible.
  std::vector<Reading> readings;
  for (int i = 0; i <= 12; ++i) {
    const double v_mps = 2.5 * std::max(0.0, i - 4.5);
    readings.push_back({static_cast<double>(i), v_mps < 2.0 ? 0.0 : v_mps, 0.01,
                        v_mps < 2.0 ? Reading::Kind::censored : Reading::Kind::speed});
  }
  LaunchModel model = model_for(0.1);
  model.dead_band = {2.0, 0.1, 0.0, 2.0};
  const LaunchWindow window = launch_window(readings, {3.0, 6.0, 6.0}, model);
  const LaunchPosterior posterior = launch_posterior(window, model, {{at_once()}});
  double lo = 9.0;
  double hi = 0.0;
  for (const SmoothedPath& path : posterior.paths) {
    lo = std::min(lo, path.t_s.front());
    hi = std::max(hi, path.t_s.front());
  }
  CHECK(lo < 4.4);
  CHECK(hi > 4.7);
}

TEST_CASE("the evidence is an integral over the launch instant, however finely that is tried", "[launch]") {
  const LaunchWindow window = constant_start(3.0, 3.0, 0.05, 8);
  const auto evidence = [&](const LaunchGrid& grid) {
    return instant_posteriors(window, model_for(0.05), {at_once()}, grid).front().log_evidence;
  };
  const double finest = evidence({400, 0});
  CHECK_THAT(evidence({100, 0}), WithinAbs(finest, 0.02));
  CHECK_THAT(evidence({20, 13}), WithinAbs(finest, 0.1));
}
