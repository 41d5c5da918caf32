#include "bothways/launch/at_rest.hpp"

#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double rest_sd = 0.05;
constexpr double slow_share = 0.5;
constexpr double slow_time_s = 3.0;

LaunchModel resting(int axes) {
  LaunchModel model;
  model.rest_sd = rest_sd;
  model.rest_axes = axes;
  model.motion.slow_sd = rest_sd * std::sqrt(slow_share);
  model.motion.slow_time_s = slow_time_s;
  return model;
}

double log_p(const LaunchModel& model, const std::vector<double>& z, double dt_s) {
  RestSpeedFilter filter(model);
  double sum = 0.0;
  for (std::size_t i = 0; i < z.size(); ++i) {
    Reading reading;
    reading.t_s = dt_s * static_cast<double>(i);
    reading.z = z[i];
    sum += filter.update(reading);
  }
  return sum;
}

/// Two correlated noises of the same sd, folded: the sum over both signs of the bivariate normal density.
double folded_pair(double z1, double z2, double correlation) {
  const double v = rest_sd * rest_sd;
  const double left = 1.0 - correlation * correlation;
  const auto density = [&](double a, double b) {
    return std::exp(-(a * a - 2.0 * correlation * a * b + b * b) / (2.0 * v * left)) /
           (2.0 * std::numbers::pi * v * std::sqrt(left));
  };
  return std::log(2.0 * (density(z1, z2) + density(z1, -z2)));
}

/// Lengths of two correlated pairs of noises: the bivariate Rayleigh law (e.g. [MJ00]).
double rayleigh_pair(double z1, double z2, double correlation) {
  const double v = rest_sd * rest_sd;
  const double left = 1.0 - correlation * correlation;
  return std::log(z1 * z2 / (v * v * left)) - (z1 * z1 + z2 * z2) / (2.0 * v * left) +
         std::log(std::cyl_bessel_i(0.0, correlation * z1 * z2 / (v * left)));
}

}  // namespace

TEST_CASE("two readings at rest have the joint law of two correlated lengths", "[launch]") {
  for (const double dt_s : {0.04, 0.5, 2.0}) {
    const double correlation = slow_share * std::exp(-dt_s / slow_time_s);
    for (const auto& [z1, z2] : {std::pair{0.02, 0.03}, {0.05, 0.08}, {0.09, 0.09}, {0.02, 0.1}}) {
      CAPTURE(dt_s, z1, z2);
      // Two in a hundred readings may be jolts.
      CHECK_THAT(log_p(resting(1), {z1, z2}, dt_s), WithinAbs(folded_pair(z1, z2, correlation), 0.1));
      CHECK_THAT(log_p(resting(2), {z1, z2}, dt_s), WithinAbs(rayleigh_pair(z1, z2, correlation), 0.1));
    }
  }
}

TEST_CASE("a swell of the slow error at rest is one event, not twenty", "[launch]") {
  const std::vector<double> swell(20, 0.11);
  LaunchModel white = resting(2);
  white.motion.slow_sd = 0.0;
  const double together = log_p(resting(2), swell, 0.04);
  const double each = log_p(white, swell, 0.04);
  CHECK(together > each + 10.0);
}

TEST_CASE("what was read at rest tells how large the slow error is now", "[launch]") {
  const auto variance_after = [](double z) {
    RestSpeedFilter filter(resting(2));
    for (int i = 0; i < 30; ++i) {
      Reading reading;
      reading.t_s = 0.1 * i;
      reading.z = z;
      (void)filter.update(reading);
    }
    return filter.slow_variance();
  };
  const double usual = rest_sd * rest_sd * slow_share;
  CHECK(variance_after(0.02) < 0.6 * usual);
  CHECK(variance_after(0.10) > 1.8 * usual);
}

TEST_CASE("the filter at rest leaves out what is long before the launches considered and what is after",
          "[launch]") {
  LaunchWindow window = constant_start(3.0, 3.0, 0.05, 7);
  window.range.earliest_s = 2.8;
  const RestFilter filter = filter_at_rest(window.readings, window.range, model_for(0.05));
  CHECK(filter.log_likelihood[8] == 0.0);  // 2 s before
  CHECK(filter.log_likelihood[10] != 0.0);
  const auto early = static_cast<std::size_t>(
      std::count_if(window.readings.begin(), window.readings.end(),
                    [&](const Reading& reading) { return reading.t_s <= window.range.latest_s; }));
  CHECK(filter.log_likelihood.size() == early + 1);
  CHECK(filter.slow_error.size() == early + 1);
}

TEST_CASE("a filter of positions at rest is the Kalman filter of a Gauss-Markov error", "[launch]") {
  LaunchModel model;
  model.positions = true;
  model.motion.slow_sd = 2.0;
  model.motion.slow_time_s = 10.0;
  std::vector<Reading> readings(2);
  readings[0] = {0.0, 1.0, 0.25, Reading::Kind::position};
  readings[1] = {3.0, 1.5, 0.25, Reading::Kind::position};
  const RestFilter filter = filter_at_rest(readings, {0.0, 5.0, 5.0}, model);
  // Two jointly normal readings, written out.
  const double s = 4.25;
  const double cov = 4.0 * std::exp(-0.3);
  const double left = s - cov * cov / s;
  const double expected = numeric::log_density({0.0, s}, 1.0) + numeric::log_density({cov / s, left}, 1.5);
  CHECK_THAT(filter.log_likelihood.back(), WithinAbs(expected, 1e-12));
}

TEST_CASE("a jolt at rest, four times as large as the noise, is a rare reading and no proof of motion",
          "[launch]") {
  std::vector<double> calm(15, 0.05);
  std::vector<double> jolted = calm;
  jolted[10] = 8.0 * rest_sd;
  const double cost = log_p(resting(2), calm, 0.1) - log_p(resting(2), jolted, 0.1);
  CHECK(cost > 3.0);
  CHECK(cost < 8.0);  // by Rayleigh's law alone 25 and more
}
