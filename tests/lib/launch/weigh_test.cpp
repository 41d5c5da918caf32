#include "bothways/launch/weigh.hpp"

#include "bothways/launch/shapes.hpp"
#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

struct Spread {
  double weight = 0.0;
  double mean_s = 0.0;
  double sd_s = 0.0;
};

Spread spread_of(const std::vector<LaunchGuess>& guesses) {
  Spread out;
  double squares = 0.0;
  for (const LaunchGuess& guess : guesses) {
    out.weight += guess.weight;
    out.mean_s += guess.weight * guess.begin_s.at(0);
    squares += guess.weight * guess.begin_s.at(0) * guess.begin_s.at(0);
  }
  out.sd_s = std::sqrt(squares - out.mean_s * out.mean_s);
  return out;
}

std::vector<LaunchGuess> weighed(double noise_mps, std::size_t most) {
  const Start start = constant_start(3.0, 3.0, noise_mps, 11);
  LaunchWindow window;
  window.readings = start.readings;
  window.range = start.range;
  return weigh(model_for(noise_mps), all_guesses({0.0}, full_shapes(3.0)), {&window}, most, {14, 7, true});
}

}  // namespace

TEST_CASE("a few guesses stand for all: the same mean and much the same spread", "[run]") {
  const auto all = weighed(0.3, 1000);
  REQUIRE(all.size() > 10);  // so noisy a start says little of its launch
  const auto some = weighed(0.3, 5);
  CHECK(some.size() <= 5);
  const Spread of_all = spread_of(all);
  const Spread of_some = spread_of(some);
  CHECK_THAT(of_some.weight, WithinAbs(1.0, 1e-9));
  CHECK_THAT(of_some.mean_s, WithinAbs(of_all.mean_s, 0.3 * of_all.sd_s));
  CHECK(of_some.sd_s > 0.6 * of_all.sd_s);
  CHECK(of_some.sd_s < 1.4 * of_all.sd_s);
}

TEST_CASE("a start that says much of its launch leaves few guesses, the best first", "[run]") {
  const auto guesses = weighed(0.01, 1000);
  REQUIRE_FALSE(guesses.empty());
  CHECK(guesses.size() < weighed(0.3, 1000).size());
  for (std::size_t i = 1; i < guesses.size(); ++i) {
    CHECK(guesses[i - 1].likelihood >= guesses[i].likelihood);
  }
  CHECK(guesses.front().shape.a_mps2.front() > 0.6 * 3.0);  // it went at once
}

TEST_CASE("the likeliest guess is among those that stand for all, and first", "[run]") {
  for (const double noise_mps : {0.05, 0.3}) {
    const auto all = weighed(noise_mps, 1000);
    for (const std::size_t most : {1U, 2U, 5U}) {
      const auto some = weighed(noise_mps, most);
      CHECK(some.size() <= most);
      CHECK(some.front().shape.a_mps2 == all.front().shape.a_mps2);
      CHECK(some.front().early_factor == all.front().early_factor);
    }
  }
}
