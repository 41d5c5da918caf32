#include "bothways/numeric/markov_chain.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

namespace {

/// A half-normal law on levels 0.36 sd apart.
HiddenMarkovChain::Levels half_normal() {
  HiddenMarkovChain::Levels out;
  for (int i = 0; i < HiddenMarkovChain::levels; ++i) {
    const double u = 0.36 * (i + 0.5);
    out(i) = std::exp(-0.5 * u * u);
  }
  return out;
}

double mean_square(const HiddenMarkovChain& chain) {
  double sum = 0.0;
  for (int i = 0; i < HiddenMarkovChain::levels; ++i) {
    sum += chain.probability()(i) * 0.36 * (i + 0.5) * 0.36 * (i + 0.5);
  }
  return sum;
}

constexpr double rate = 1.0 / (0.36 * 0.36);  // a Gauss-Markov process with a time of 1 s

}  // namespace

TEST_CASE("the stationary law stays, however long the wait", "[numeric]") {
  HiddenMarkovChain chain(half_normal(), rate);
  const HiddenMarkovChain::Levels before = chain.probability();
  for (const double dt_s : {1e-3, 0.1, 3.0, 1e6}) {
    chain.predict(dt_s);
    CHECK((chain.probability() - before).cwiseAbs().maxCoeff() < 1e-7);
  }
  CHECK_THAT(chain.probability().sum(), WithinAbs(1.0, 1e-12));
}

TEST_CASE("what was known of the level is forgotten as by a Gauss-Markov process", "[numeric]") {
  HiddenMarkovChain chain(half_normal(), rate);
  const double usual = mean_square(chain);
  HiddenMarkovChain::Levels low = HiddenMarkovChain::Levels::Constant(1e-9);
  low(0) = 1.0;
  CHECK(chain.update(low) > 0.2);
  const double known = mean_square(chain);
  CHECK(known < 0.1 * usual);
  double t_s = 0.0;
  for (const double dt_s : {0.1, 0.2, 0.4, 0.8}) {
    chain.predict(dt_s);
    t_s += dt_s;
    CAPTURE(t_s);
    // The mean square of x returns as 1 - exp(-2t).
    CHECK_THAT(mean_square(chain) / usual,
               WithinAbs(1.0 - (1.0 - known / usual) * std::exp(-2.0 * t_s), 0.05));
  }
}

TEST_CASE("one long wait is many short ones", "[numeric]") {
  HiddenMarkovChain once(half_normal(), rate);
  HiddenMarkovChain often(half_normal(), rate);
  HiddenMarkovChain::Levels high = HiddenMarkovChain::Levels::Constant(0.01);
  high(7) = 1.0;
  (void)once.update(high);
  (void)often.update(high);
  once.predict(1.0);
  for (int i = 0; i < 20; ++i) {
    often.predict(0.05);
  }
  CHECK((once.probability() - often.probability()).cwiseAbs().maxCoeff() < 2e-3);
}

TEST_CASE("an observation that no level explains changes nothing", "[numeric]") {
  HiddenMarkovChain chain(half_normal(), rate);
  const HiddenMarkovChain::Levels before = chain.probability();
  const double p = chain.update(HiddenMarkovChain::Levels::Zero());
  CHECK(p > 0.0);
  CHECK(p < 1e-200);
  CHECK(chain.probability() == before);
  chain.predict(0.1);
  CHECK_THAT(chain.probability().sum(), WithinAbs(1.0, 1e-12));
}
