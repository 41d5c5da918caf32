#include "bothways/launch/evidence.hpp"

#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

struct Spread {
  double weight = 0.0;
  double mean_s = 0.0;
  double sd_s = 0.0;
};

/// Of where the hypotheses put the first foot.
Spread spread_of(const std::vector<WeightedHypothesis>& hypotheses, const LaunchWindow& window,
                 const LaunchModel& model) {
  Spread out;
  double squares = 0.0;
  for (const WeightedHypothesis& h : hypotheses) {
    const double foot_s =
        instant_posteriors(window, model, {h.hypothesis}, {14, 7}).front().mean_s() + h.hypothesis.foot_s;
    out.weight += h.weight;
    out.mean_s += h.weight * foot_s;
    squares += h.weight * foot_s * foot_s;
  }
  out.sd_s = std::sqrt(squares - out.mean_s * out.mean_s);
  return out;
}

std::vector<WeightedHypothesis> weighted(double noise_mps, std::size_t most) {
  const std::vector<LaunchHypothesis> all = full_throttle_hypotheses({{}}, 3.0);
  const std::vector<LaunchWindow> windows{constant_start(3.0, 3.0, noise_mps, 11)};
  return weighted_hypotheses(all, evidence_of(all, model_for(noise_mps), windows, {14, 7}), most);
}

}  // namespace

TEST_CASE("a few hypotheses stand for all: the same mean and much the same spread", "[launch]") {
  const auto all = weighted(0.3, 1000);
  REQUIRE(all.size() > 10);  // so noisy a start says little of its launch
  const auto some = weighted(0.3, 8);
  CHECK(some.size() <= 8);
  const LaunchWindow window = constant_start(3.0, 3.0, 0.3, 11);
  const Spread of_all = spread_of(all, window, model_for(0.3));
  const Spread of_some = spread_of(some, window, model_for(0.3));
  CHECK_THAT(of_some.weight, WithinAbs(1.0, 1e-9));
  CHECK_THAT(of_some.mean_s, WithinAbs(of_all.mean_s, 0.3 * of_all.sd_s));
  CHECK(of_some.sd_s > 0.6 * of_all.sd_s);
  CHECK(of_some.sd_s < 1.4 * of_all.sd_s);
}

TEST_CASE("a start that says much of its launch leaves few hypotheses, the likeliest first", "[launch]") {
  const auto hypotheses = weighted(0.01, 1000);
  REQUIRE_FALSE(hypotheses.empty());
  CHECK(hypotheses.size() < weighted(0.3, 1000).size());
  for (std::size_t i = 1; i < hypotheses.size(); ++i) {
    CHECK(hypotheses[i - 1].own_weight >= hypotheses[i].own_weight);
  }
  CHECK(hypotheses.front().hypothesis.shape.length_s() == 0.0);  // it went at once
}

TEST_CASE("the likeliest hypothesis is among those that stand for all, and first", "[launch]") {
  for (const double noise_mps : {0.05, 0.3}) {
    const auto all = weighted(noise_mps, 1000);
    for (const std::size_t most : {1U, 2U, 5U}) {
      const auto some = weighted(noise_mps, most);
      CHECK(some.size() <= most);
      CHECK(some.front().hypothesis.shape.a_mps2 == all.front().hypothesis.shape.a_mps2);
      CHECK(some.front().hypothesis.early_jerk_factor == all.front().hypothesis.early_jerk_factor);
    }
  }
}

TEST_CASE("posterior model weights are prior times evidence to the tempering exponent", "[launch]") {
  std::vector<LaunchHypothesis> two(2, at_once());
  two[1].prior = 0.5;
  std::vector<Evidence> evidence(2);
  evidence[0] = {-10.0, {1.0}};
  evidence[1] = {-8.0, {1.1}};
  const auto weighted = weighted_hypotheses(two, evidence, 5);
  REQUIRE(weighted.size() == 2);
  const double odds = 0.5 * std::exp(0.35 * 2.0);  // of the second to the first
  CHECK_THAT(weighted[0].weight, WithinAbs(odds / (1.0 + odds), 1e-12));
  CHECK(weighted[0].hypothesis.prior == 0.5);
}

TEST_CASE("the one that stands for another has the weight of both", "[launch]") {
  const std::vector<LaunchHypothesis> three(3, at_once());
  std::vector<Evidence> evidence(3);
  evidence[0] = {-10.0, {1.00}};
  evidence[1] = {-10.5, {1.01}};  // near the first
  evidence[2] = {-10.2, {1.40}};
  const double w0 = 1.0;
  const double w1 = std::exp(-0.35 * 0.5);
  const double w2 = std::exp(-0.35 * 0.2);
  const auto weighted = weighted_hypotheses(three, evidence, 2);
  REQUIRE(weighted.size() == 2);
  CHECK_THAT(weighted[0].weight, WithinAbs((w0 + w1) / (w0 + w1 + w2), 1e-12));
  CHECK_THAT(weighted[1].weight, WithinAbs(w2 / (w0 + w1 + w2), 1e-12));
}
