#include "bothways/pair/combine.hpp"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <stdexcept>

namespace bothways {

namespace {

double squares(std::span<const double> values, double centre) {
  return std::accumulate(values.begin(), values.end(), 0.0,
                         [&](double sum, double x) { return sum + (x - centre) * (x - centre); });
}

}  // namespace

Part combine(std::span<const Part> parts) {
  double variance = 0.0;
  double spread = 0.0;
  for (const Part& part : parts) {
    const double square = part.sd * part.sd;
    variance += square;
    spread += square * square / part.degrees_of_freedom;
  }
  Part whole{std::sqrt(variance)};
  if (spread > 0.0) {
    whole.degrees_of_freedom = variance * variance / spread;
  }
  return whole;
}

Estimate estimate_of(double value, const Part& beyond, double measurement_sd) {
  if (!(measurement_sd >= 0.0)) {
    throw std::invalid_argument("a measurement sd must be >= 0");
  }
  const Estimate random = student_estimate(value, beyond.sd, beyond.degrees_of_freedom);
  const Estimate known = normal_estimate(value, measurement_sd);
  const double half = std::hypot(random.hi95 - value, known.hi95 - value);
  return {value, std::hypot(beyond.sd, measurement_sd), value - half, value + half};
}

double p_value_of(double value, const Part& beyond, double measurement_sd) {
  if (value == 0.0) {
    return 1.0;
  }
  const double size = std::abs(value);
  const double nu = std::min(beyond.degrees_of_freedom, 1e6);
  const boost::math::students_t student(nu);
  const boost::math::normal normal;
  // The share of the figure that the scatter's factor takes; Student alone and normal alone are the ends.
  const auto student_p = [&](double half) {
    return beyond.sd > 0.0 ? 2.0 * boost::math::cdf(boost::math::complement(student, half / beyond.sd)) : 0.0;
  };
  const auto normal_p = [&](double half) {
    return measurement_sd > 0.0
               ? 2.0 * boost::math::cdf(boost::math::complement(normal, half / measurement_sd))
               : 0.0;
  };
  // Half-widths scatter = size cos(x), measurement = size sin(x): student_p rises and normal_p falls with x,
  // and both are the same level p where they meet.
  double lo = 0.0;
  double hi = std::numbers::pi / 2.0;
  if (measurement_sd <= 0.0) {
    return student_p(size);
  }
  if (beyond.sd <= 0.0) {
    return normal_p(size);
  }
  for (int step = 0; step < 60; ++step) {
    const double x = (lo + hi) / 2.0;
    (student_p(size * std::cos(x)) < normal_p(size * std::sin(x)) ? lo : hi) = x;
  }
  return student_p(size * std::cos((lo + hi) / 2.0));
}

MeanOf mean_of(std::span<const double> values, std::span<const double> measurement_sds) {
  if (values.empty() || values.size() != measurement_sds.size()) {
    throw std::invalid_argument("a mean needs at least one result, each with its sd");
  }
  const auto n = static_cast<double>(values.size());
  MeanOf mean;
  mean.value = std::accumulate(values.begin(), values.end(), 0.0) / n;
  // A second pass takes out what rounding left in a mean of large numbers.
  mean.value += std::accumulate(values.begin(), values.end(), 0.0,
                                [&](double sum, double x) { return sum + (x - mean.value); }) /
                n;
  mean.measurement = std::sqrt(squares(measurement_sds, 0.0)) / n;
  if (values.size() > 1) {
    const double variance = squares(values, mean.value) / (n - 1.0);
    mean.scatter = std::sqrt(variance);
    const double beyond = variance / n - mean.measurement * mean.measurement;
    mean.beyond = {std::sqrt(std::max(0.0, beyond)), n - 1.0};
  }
  mean.estimate = normal_estimate(mean.value, mean.measurement);
  if (values.size() > 1) {
    const Estimate student = student_estimate(mean.value, mean.scatter / std::sqrt(n), n - 1.0);
    mean.estimate.sd = std::max(mean.estimate.sd, student.sd);
    mean.estimate.lo95 = std::min(mean.estimate.lo95, student.lo95);
    mean.estimate.hi95 = std::max(mean.estimate.hi95, student.hi95);
  }
  return mean;
}

}  // namespace bothways
