#include "bothways/launch/path.hpp"

#include "bothways/launch/forward_pass.hpp"

namespace bothways {

using numeric::State;

namespace {

/// The backward filter after one launch, down to the first time after it. Row i: time first + i.
struct SmootherPass {
  std::vector<numeric::BackwardGain> gain;  ///< where readings are near rest; later those of the whole window
  std::vector<numeric::Information> info;
  std::vector<State> input;  ///< of the step that ends there
};

SmootherPass smoother_pass(const BackwardPass& pass, const LaunchEntry& entry) {
  const std::size_t first = entry.first;
  const std::size_t n = pass.grid.t_s.size();
  SmootherPass out;
  out.info.resize(n - first);
  out.input.assign(n - first, State::Zero());
  for (std::size_t k = first + 1; k < n; ++k) {
    out.input[k - first] = pass.step[k - 1].g * expected_jerk(entry, k);
  }
  const ForwardPass forward = forward_pass(pass, entry);
  const std::size_t linear = forward.site.size();
  const auto shaped = information_with_shape(pass, entry, first + linear);
  for (std::size_t i = linear; i < out.info.size(); ++i) {
    out.info[i] = i - linear < shaped.size() ? shaped[i - linear] : pass.info[first + i];
  }
  out.gain.resize(linear);
  for (std::size_t i = linear; i-- > 0;) {
    out.gain[i] = numeric::backward_gain(pass.step[first + i], out.info[i + 1].matrix);
    out.info[i] = numeric::predict_back(out.gain[i], out.info[i + 1], out.input[i + 1]);
    if (forward.site[i]) {
      out.info[i] = numeric::update(out.info[i], *forward.site[i]);
    }
  }
  return out;
}

void reserve(SmoothedPath& path, std::size_t points) {
  path.t_s.reserve(points);
  path.mean.reserve(points);
  path.cov.reserve(points);
  path.lagged.reserve(points);
}

void append(SmoothedPath& path, double t_s, const numeric::SmoothedTransition& step) {
  const numeric::Gaussian next = numeric::predict({path.mean.back(), path.cov.back()}, step);
  path.lagged.push_back(step.a);
  path.t_s.push_back(t_s);
  path.mean.push_back(next.mean);
  path.cov.push_back(next.cov);
}

}  // namespace

numeric::Cubic cubic_of(const SmoothedPath& path, std::size_t i, int row) {
  return {path.t_s[i],           path.t_s[i + 1],       path.mean[i](row),
          path.mean[i + 1](row), path.mean[i](row + 1), path.mean[i + 1](row + 1)};
}

SmoothedPath smoothed_path(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const LaunchEntry entry = launch_entry(pass, shape, t0_s);
  const SmootherPass back = smoother_pass(pass, entry);
  const State entry_input = entry.step.g * entry.jerk.front();
  const numeric::BackwardGain entry_gain = numeric::backward_gain(entry.step, back.info.front().matrix);
  const numeric::Gaussian start =
      numeric::combine(entry.prior, numeric::predict_back(entry_gain, back.info.front(), entry_input)).state;
  SmoothedPath path;
  reserve(path, back.info.size() + 1);
  path.t_s.push_back(t0_s);
  path.mean.push_back(start.mean);
  path.cov.push_back(start.cov);
  append(path, pass.grid.t_s[entry.first],
         numeric::smoothed_transition(entry_gain, back.info.front(), entry_input));
  for (std::size_t i = 0; i + 1 < back.info.size(); ++i) {
    const numeric::BackwardGain& gain = i < back.gain.size() ? back.gain[i] : pass.gain[entry.first + i];
    append(path, pass.grid.t_s[entry.first + i + 1],
           numeric::smoothed_transition(gain, back.info[i + 1], back.input[i + 1]));
  }
  return path;
}

}  // namespace bothways
