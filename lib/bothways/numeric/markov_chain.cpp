#include "bothways/numeric/markov_chain.hpp"

#include <algorithm>
#include <cmath>

namespace bothways::numeric {

namespace {

constexpr double small_change = 0.02;  // of the matrix exponential's first step; squared from there on
constexpr int most_halvings = 40;
constexpr double same_s = 1e-6;
constexpr double tiny = 1e-300;

}  // namespace

HiddenMarkovChain::HiddenMarkovChain(const Levels& stationary, double rate)
    : probability_(stationary / stationary.sum()), rate_(Change::Zero()), change_(Change::Identity()) {
  for (int i = 0; i + 1 < levels; ++i) {
    const double up = rate * std::sqrt(stationary(i + 1) / stationary(i));
    const double down = rate * std::sqrt(stationary(i) / stationary(i + 1));
    rate_(i + 1, i) += up;
    rate_(i, i) -= up;
    rate_(i, i + 1) += down;
    rate_(i + 1, i + 1) -= down;
  }
}

void HiddenMarkovChain::predict(double dt_s) {
  if (std::abs(dt_s - change_s_) > same_s) {
    change_s_ = dt_s;
    const double fastest = -rate_.diagonal().minCoeff();
    int halvings = 0;
    double step_s = dt_s;
    while (fastest * step_s > small_change && halvings < most_halvings) {
      step_s *= 0.5;
      ++halvings;
    }
    change_ = Change::Identity() + rate_ * step_s;
    for (int i = 0; i < halvings; ++i) {
      change_ = (change_ * change_).eval();
    }
  }
  probability_ = (change_ * probability_).eval();
  probability_ /= probability_.sum();  // rounding, after a long wait
}

double HiddenMarkovChain::update(const Levels& likelihood) {
  const double p = likelihood.dot(probability_);
  if (!(p > tiny)) {
    return tiny;  // of no level: it says nothing
  }
  probability_ = probability_.cwiseProduct(likelihood) / p;
  return p;
}

}  // namespace bothways::numeric
