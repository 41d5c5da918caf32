// docs/method.md, eq. (1.4): share^2 = height, dt = apart_s, T = trial_s.
#include "bothways/speed/rest_noise.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace bothways {

namespace {

constexpr double slow_time_spread = 0.9;   // sd of its logarithm, from log to log
constexpr double independent_share = 0.3;  // of pairs of readings at rest: neighbours share their error

/// Readings of one stop.
using Stop = std::vector<double>;

/// Valid samples of rows begin..end-1, the first and last half second taken off.
Stop inner_readings(const Stretch& s, std::size_t begin, std::size_t end) {
  Stop stop;
  for (std::size_t k = begin; k < end; ++k) {
    const bool inside = s.t_s[k] - s.t_s[begin] > RestLimits::stop_end_s &&
                        s.t_s[end - 1] - s.t_s[k] > RestLimits::stop_end_s;
    if (inside && is_valid(s, k)) {
      stop.push_back(s.v_mps[k]);
    }
  }
  return stop;
}

/// Stretches of readings below the limit, at least least_stop_s long.
std::vector<Stop> stops_below(const std::vector<Stretch>& stretches, double limit_mps) {
  std::vector<Stop> stops;
  for (const Stretch& s : stretches) {
    std::size_t begin = 0;
    for (std::size_t i = 0; i <= s.t_s.size(); ++i) {
      if (i < s.t_s.size() && (s.v_mps[i] < limit_mps || !is_valid(s, i))) {
        continue;
      }
      if (i > begin && s.t_s[i - 1] - s.t_s[begin] >= RestLimits::least_stop_s) {
        Stop stop = inner_readings(s, begin, i);
        if (stop.size() >= 2) {
          stops.push_back(std::move(stop));
        }
      }
      begin = i + 1;
    }
  }
  return stops;
}

double rms_of(const Stop& stop) {
  double sum = 0.0;
  for (const double v : stop) {
    sum += v * v;
  }
  return std::sqrt(sum / static_cast<double>(stop.size()));
}

/// Stops that are truly at rest: not much noisier than the quiet ones.
std::vector<Stop> quiet_stops(const std::vector<Stop>& stops, double step_mps) {
  std::vector<double> levels;
  levels.reserve(stops.size());
  for (const Stop& stop : stops) {
    levels.push_back(rms_of(stop));
  }
  const double usual = numeric::quantile(levels, 0.3);
  std::vector<Stop> quiet;
  for (std::size_t i = 0; i < stops.size(); ++i) {
    if (levels[i] <= 2.5 * usual + std::max(0.02, step_mps)) {
      quiet.push_back(stops[i]);
    }
  }
  return quiet;
}

Correlation correlation_of_squares(const std::vector<Stop>& stops, std::size_t lag, double mean_square) {
  double sum = 0.0;
  double variance = 0.0;
  std::size_t pairs = 0;
  for (const Stop& stop : stops) {
    for (std::size_t i = 0; i + lag < stop.size(); ++i) {
      const double a = stop[i] * stop[i] - mean_square;
      const double b = stop[i + lag] * stop[i + lag] - mean_square;
      sum += a * b;
      variance += 0.5 * (a * a + b * b);
      ++pairs;
    }
  }
  return {0.0, variance > 0.0 ? sum / variance : 0.0, static_cast<double>(pairs)};
}

}  // namespace

RestNoise noise_at_rest(const std::vector<Stretch>& stretches, double limit_mps, double dt_s,
                        double step_mps) {
  const std::vector<Stop> stops = quiet_stops(stops_below(stretches, limit_mps), step_mps);
  RestNoise out;
  for (const Stop& stop : stops) {
    for (const double v : stop) {
      ++out.samples;
      out.zeros += v == 0.0 ? 1 : 0;
      out.mean += v;
      out.mean_square += v * v;
      if (step_mps > 0.0) {
        const auto steps = static_cast<std::size_t>(std::lround(v / step_mps));
        out.steps.resize(std::max(out.steps.size(), steps + 1));
        ++out.steps[steps];
      }
    }
  }
  if (out.samples > 0) {
    out.mean /= static_cast<double>(out.samples);
    out.mean_square /= static_cast<double>(out.samples);
    out.is_coarse = is_coarse_step(step_mps, std::sqrt(out.mean_square));
  }
  const Correlation next = correlation_of_squares(stops, 1, out.mean_square);
  out.neighbour = next.pairs > 20 ? std::clamp(next.coefficient, 0.0, 1.0) : -1.0;
  std::size_t before = 0;
  for (const double apart_s : {0.1, 0.5, 1.0, 2.0, 4.0}) {
    const auto lag = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(apart_s / dt_s)));
    if (lag > std::exchange(before, lag)) {
      out.correlations.push_back(correlation_of_squares(stops, lag, out.mean_square));
      out.correlations.back().apart_s = static_cast<double>(lag) * dt_s;
    }
  }
  return out;
}

double correlation_time_s(const std::vector<Correlation>& correlations, double usual_s) {
  double best = -std::numeric_limits<double>::infinity();
  double found = usual_s;
  for (const double trial_s : {1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0, 5.0, 6.3, 8.0, 10.0, 12.5, 15.0}) {
    double sum = 0.0;
    double squares = 0.0;
    for (const Correlation& c : correlations) {
      const double shape = std::exp(-2.0 * c.apart_s / trial_s);
      sum += c.pairs * c.coefficient * shape;
      squares += c.pairs * shape * shape;
    }
    const double height = squares > 0.0 ? std::clamp(sum / squares, 0.0, 1.0) : 0.0;
    const double off = std::log(trial_s / usual_s) / slow_time_spread;
    double score = -0.5 * off * off;
    for (const Correlation& c : correlations) {
      const double miss = c.coefficient - height * std::exp(-2.0 * c.apart_s / trial_s);
      score -= 0.5 * independent_share * c.pairs * miss * miss;
    }
    if (score > best) {
      best = score;
      found = trial_s;
    }
  }
  return found;
}

}  // namespace bothways
