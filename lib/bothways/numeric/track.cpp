#include "bothways/numeric/track.hpp"

#include "bothways/numeric/backward.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::numeric {

namespace {

/// What later readings say, as in Information but for the constant; a vector for each axis. Both axes have
/// the same noise at the same times, so the same matrices.
struct Known {
  StateMatrix matrix = StateMatrix::Zero();
  State east = State::Zero();
  State north = State::Zero();
};

/// How the state goes on, as in Conditional.
struct Onward {
  Conditional east;
  State north = State::Zero();  ///< b of that axis
};

void take(Known& known, const State& h, double east, double north, double variance) {
  known.matrix.noalias() += h * h.transpose() / variance;
  known.east += h * (east / variance);
  known.north += h * (north / variance);
}

Known carry_back(const Step& step, const Known& after, Onward& onward) {
  const Carried carried = carry_back(step, Information{after.matrix, after.east});
  onward.east = carried.forward;
  onward.north.noalias() = onward.east.c * after.north;
  return {carried.before.matrix, carried.before.vector, onward.east.a.transpose() * after.north};
}

Gaussian prior_of(const TrackNoise& noise) {
  Gaussian prior;
  prior.cov(i_s, i_s) = 100.0;
  prior.cov(i_v, i_v) = 900.0;
  prior.cov(i_a, i_a) = 9.0;
  prior.cov(i_e, i_e) = noise.drift_sd * noise.drift_sd;
  return prior;
}

}  // namespace

TrackVelocity smooth_track(const std::vector<double>& t_s, const std::vector<double>& east_m,
                           const std::vector<double>& north_m, const TrackNoise& noise) {
  const std::size_t n = t_s.size();
  const Motion motion{noise.jerk_density, 0.0, noise.drift_sd, noise.drift_time_s};
  const State h = reading_of_position();
  const double variance = noise.white_sd * noise.white_sd;
  const auto take_at = [&](Known& known, std::size_t k) {
    take(known, h, east_m[k] - east_m.front(), north_m[k] - north_m.front(), variance);
  };
  std::vector<Onward> onward(n - 1);
  Known known;
  take_at(known, n - 1);
  Step step;
  double last_dt = 0.0;
  for (std::size_t k = n - 1; k-- > 0;) {
    const double dt = t_s[k + 1] - t_s[k];
    if (std::abs(dt - last_dt) > 1e-6) {
      step = step_of(motion, dt);
      last_dt = dt;
    }
    known = carry_back(step, known, onward[k]);
    take_at(known, k);
  }
  const Gaussian prior = prior_of(noise);
  Gaussian east = join(prior, {known.matrix, known.east}).posterior;
  State north = join(prior, {known.matrix, known.north}).posterior.mean;
  TrackVelocity out;
  for (auto* column : {&out.east_mps, &out.north_mps, &out.sd_mps}) {
    column->reserve(n);
  }
  for (std::size_t k = 0; k < n; ++k) {
    out.east_mps.push_back(east.mean(i_v));
    out.north_mps.push_back(north(i_v));
    out.sd_mps.push_back(std::sqrt(std::max(east.cov(i_v, i_v), 1e-8)));
    if (k + 1 < n) {
      east = go_on(east, onward[k].east);
      north = go_on(north, onward[k].east, onward[k].north);
    }
  }
  return out;
}

}  // namespace bothways::numeric
