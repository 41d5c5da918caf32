#include "bothways/launch/entry.hpp"

#include <algorithm>

namespace bothways {

using numeric::Normal;

namespace {

/// Number of readings up to a time.
std::size_t readings_until(const LaunchWindow& window, double t_s) {
  const auto after = std::upper_bound(window.readings.begin(), window.readings.end(), t_s,
                                      [](double t, const Reading& reading) { return t < reading.t_s; });
  return static_cast<std::size_t>(after - window.readings.begin());
}

numeric::Gaussian prior_of(const BackwardPass& pass, const LaunchShape& shape, const Normal& slow_error) {
  numeric::Gaussian prior;
  prior.mean(numeric::i_a) = shape.at(0.0);
  prior.cov(numeric::i_a, numeric::i_a) = shape.sd_mps2 * shape.sd_mps2;
  prior.mean(numeric::i_e) = slow_error.mean;
  prior.cov(numeric::i_e, numeric::i_e) = slow_error.variance;
  prior.cov(numeric::i_r, numeric::i_r) = pass.model.launch_stray_variance;
  return prior;
}

/// Over the steps from t0 on to the first time from which the shape expects a constant acceleration.
std::vector<double> jerks_of(const std::vector<double>& t_s, std::size_t first, const LaunchShape& shape,
                             double t0_s) {
  std::vector<double> out;
  double begin_s = 0.0;  // from t0
  for (std::size_t k = first; k < t_s.size(); ++k) {
    const double end_s = t_s[k] - t0_s;
    out.push_back((shape.at(end_s) - shape.at(begin_s)) / (end_s - begin_s));
    if (end_s >= shape.length_s()) {
      break;
    }
    begin_s = end_s;
  }
  return out;
}

}  // namespace

LaunchEntry launch_entry(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const std::vector<double>& t_s = pass.grid.t_s;
  const std::size_t before = readings_until(pass.window, t0_s);
  const auto first = static_cast<std::size_t>(std::upper_bound(t_s.begin(), t_s.end(), t0_s) - t_s.begin());
  const Normal slow_error = slow_error_at(pass.window.at_rest.slow_error[before], t0_s, pass.model.motion);
  return {prior_of(pass, shape, slow_error), pass.window.at_rest.log_likelihood[before],
          transition_to(pass.grid, first, pass.model.motion, t_s[first] - t0_s), first,
          jerks_of(t_s, first, shape, t0_s)};
}

double expected_jerk(const LaunchEntry& entry, std::size_t k) {
  return k - entry.first < entry.jerk.size() ? entry.jerk[k - entry.first] : 0.0;
}

std::vector<numeric::Information> information_with_shape(const BackwardPass& pass, const LaunchEntry& entry,
                                                         std::size_t from) {
  const std::size_t end = std::max(from, entry.first + entry.jerk.size() - 1);
  std::vector<numeric::Information> out(end - from);
  out.push_back(pass.info[end]);
  for (std::size_t k = end; k-- > from;) {
    const numeric::State input = pass.step[k].g * expected_jerk(entry, k + 1);
    out[k - from] = information_before(pass, k, out[k + 1 - from], input);
  }
  return out;
}

}  // namespace bothways
