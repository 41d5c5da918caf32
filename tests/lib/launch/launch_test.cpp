#include "bothways/launch/launch.hpp"

#include "bothways/launch/standing.hpp"
#include "bothways/launch/tune.hpp"
#include "lib/launch/starts.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("the weights of the launch instants sum to 1 and hold the true instant", "[run]") {
  int held = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const double t0_s = 3.0 + 0.01 * static_cast<double>(seed % 10);
    const Start start = constant_start(t0_s, 3.0, 0.05, seed);
    const LaunchFit fit = fit_launch(start.readings, model_for(0.05), start.range);
    double sum = 0.0;
    double mean = 0.0;
    double square = 0.0;
    for (const LaunchNode& node : fit.nodes) {
      sum += node.weight;
      mean += node.weight * node.t0_s;
      square += node.weight * node.t0_s * node.t0_s;
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
    const double sd = std::sqrt(std::max(0.0, square - mean * mean) + fit.spacing_s * fit.spacing_s / 12.0);
    held += std::abs(mean - t0_s) < 1.96 * sd ? 1 : 0;
  }
  CHECK(held >= 34);  // of 40; 38 expected, sd 1.4
}

TEST_CASE("for a given launch instant the likelihood is the weight up to one constant", "[run]") {
  const Start start = constant_start(3.04, 3.0, 0.05, 3);
  const LaunchModel model = model_for(0.05);
  const LaunchFit fit = fit_launch(start.readings, model, start.range);
  REQUIRE(fit.nodes.size() >= 2);
  const double first = launch_log_likelihood(start.readings, model, start.range, fit.nodes[0].t0_s);
  for (const LaunchNode& node : fit.nodes) {
    const double here = launch_log_likelihood(start.readings, model, start.range, node.t0_s);
    CHECK_THAT(here - first, WithinAbs(std::log(node.weight / fit.nodes[0].weight), 1e-9));
  }
}

TEST_CASE("what passes share of their matrices changes nothing", "[run]") {
  LaunchModel sharing = model_for(0.05);
  sharing.store = std::make_shared<MatrixStore>();
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    Start start = constant_start(3.02, 3.0, 0.05, seed);
    start.readings.resize(start.readings.size() - seed);
    if (seed == 3) {
      start.readings[55].kind = Reading::Kind::none;  // other matrices from there on
    }
    if (seed == 4) {
      start.readings.erase(start.readings.begin() + 50);
    }
    for (const double lag_s : {0.0, 0.2, 0.0, 0.1}) {
      sharing.motion.lag_s = lag_s;
      LaunchModel alone = sharing;
      alone.store.reset();
      const LaunchFit one = fit_launch(start.readings, sharing, start.range);
      const LaunchFit other = fit_launch(start.readings, alone, start.range);
      INFO("start " << seed << ", lag " << lag_s << " s");
      CHECK_THAT(one.log_evidence, WithinAbs(other.log_evidence, 1e-7));
      REQUIRE(one.nodes.size() == other.nodes.size());
      CHECK((one.nodes[0].mean.back() - other.nodes[0].mean.back()).isZero(1e-7));
      CHECK((one.nodes[0].start.cov - other.nodes[0].start.cov).isZero(1e-7));
      CHECK((one.times->forward.front().c - other.times->forward.front().c).isZero(1e-7));
    }
  }
}

TEST_CASE("the smoothed motion begins at rest and follows the true speed", "[run]") {
  const Start start = constant_start(3.0, 3.0, 0.02, 4);
  const LaunchFit fit = fit_launch(start.readings, model_for(0.02), start.range);
  for (const LaunchNode& node : fit.nodes) {
    CHECK_THAT(node.start.mean(numeric::i_s), WithinAbs(0.0, 1e-12));
    CHECK_THAT(node.start.mean(numeric::i_v), WithinAbs(0.0, 1e-12));
    for (std::size_t k = 0; k < node.mean.size(); ++k) {
      const double t_s = fit.times->t_s[node.first + k];
      if (t_s > 3.5) {
        CHECK_THAT(node.mean[k](numeric::i_v), WithinAbs(3.0 * (t_s - 3.0), 0.08));  // 4 sd
      }
    }
  }
}

TEST_CASE("the evidence of a shape is the same alone and beside others", "[run]") {
  const Start start = constant_start(3.0, 3.0, 0.05, 5);
  LaunchModel model = model_for(0.05);
  LaunchShape creep;
  creep.a_mps2 = {0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 3.0};
  creep.sd_mps2 = 0.4;
  const LaunchGrid grid{14, 7, true};
  std::optional<double> near_s;
  const auto both = shape_evidence(start.readings, model, start.range, {model.shape, creep}, grid, near_s);
  REQUIRE(both.size() == 2);
  CHECK_THAT(both[0].log_evidence,
             WithinAbs(fit_launch(start.readings, model, start.range, grid).log_evidence, 1e-9));
  model.shape = creep;
  CHECK_THAT(both[1].log_evidence,
             WithinAbs(fit_launch(start.readings, model, start.range, grid).log_evidence, 1e-9));
}

TEST_CASE("a shape runs in straight lines between its points and stays at its last", "[run]") {
  LaunchShape shape;
  shape.step_s = 0.1;
  shape.a_mps2 = {0.0, 1.0, 3.0};
  CHECK(shape.length_s() == 0.2);
  CHECK(shape.at(-1.0) == 0.0);
  CHECK_THAT(shape.at(0.05), WithinAbs(0.5, 1e-12));
  CHECK_THAT(shape.at(0.15), WithinAbs(2.0, 1e-12));
  CHECK(shape.at(9.0) == 3.0);
}

TEST_CASE("held zeros after the launch leave the instant open between the last zero and the first speed",
          "[run]") {
  // 1 Hz, held below 2 m/s: all instants in the last second but one are possible.
  Start start;
  for (int i = 0; i <= 12; ++i) {
    Reading reading;
    reading.t_s = i;
    reading.variance = 0.01;
    const double v_mps = 2.5 * std::max(0.0, reading.t_s - 4.5);
    reading.z = v_mps < 2.0 ? 0.0 : v_mps;
    reading.kind = v_mps < 2.0 ? Reading::Kind::held : Reading::Kind::speed;
    start.readings.push_back(reading);
  }
  start.range = {3.0, 6.0, 6.0};
  LaunchModel model = model_for(0.1);
  model.hold = {2.0, 0.1, 0.0, 2.0};
  read_at_rest(start.readings, model, start.range);
  double lo = 9.0;
  double hi = 0.0;
  for (const LaunchNode& node : fit_launch(start.readings, model, start.range).nodes) {
    lo = std::min(lo, node.t0_s);
    hi = std::max(hi, node.t0_s);
  }
  CHECK(lo < 4.4);
  CHECK(hi > 4.7);
}
