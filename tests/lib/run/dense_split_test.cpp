// Splits, clock and edges against the joint normal of all states: eqs. (5.1) to (5.4) of docs/method.md
// written out again, with crossings by bisection and quantiles from the error function.

#include "bothways/core/units.hpp"
#include "bothways/run/split_times.hpp"
#include "lib/launch/dense_rides.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double relative = 2e-5;  // 1e-6 but where positions go astray: two near decay times cancel in Q
constexpr double end_s = 5.8;
constexpr Instant window_start{1'777'887'000'000'000};

template <typename F>
double bisected(const F& f, double lo, double hi) {
  for (int i = 0; i < 200; ++i) {
    (f(0.5 * (lo + hi)) < 0.0 ? lo : hi) = 0.5 * (lo + hi);
  }
  return 0.5 * (lo + hi);
}

/// Between two points, by Hermite's four polynomials.
double hermite(const std::vector<double>& y, double h, double u) {
  return y[0] * (1 + 2 * u) * (1 - u) * (1 - u) + y[1] * h * u * (1 - u) * (1 - u) +
         y[2] * u * u * (3 - 2 * u) + y[3] * h * u * u * (u - 1);
}

/// A launch written out, and when its mean first passes a level.
struct DensePath {
  std::vector<double> t_s;
  numeric::DensePosterior posterior;
  double weight = 0.0;
  double launch_width_s = 0.0;
  double clock_variance = 0.0;  ///< of the start of the clock: a hundredth of the square of the filter's time

  struct Passing {
    double t_s = 0.0;
    double slope = 0.0;
    double travel_m = 0.0;
    Eigen::Index at = 0;  ///< its end
    int row = 0;
  };
  [[nodiscard]] Passing passing(int row, double level) const {
    const auto piece = [&](Eigen::Index k, int part) {
      return std::vector{posterior.state(k)(part), posterior.state(k)(part + 1), posterior.state(k + 1)(part),
                         posterior.state(k + 1)(part + 1)};
    };
    Eigen::Index k = 0;
    while (posterior.state(k + 1)(row) < level) {
      ++k;
    }
    const double from_s = t_s[static_cast<std::size_t>(k)];
    const double h = t_s[static_cast<std::size_t>(k) + 1] - from_s;
    const auto value = [&](double u) { return hermite(piece(k, row), h, u); };
    const double u = bisected([&](double x) { return value(x) - level; }, 0.0, 1.0);
    return {from_s + u * h, (value(u + 1e-5) - value(u - 1e-5)) / (2e-5 * h),
            hermite(piece(k, numeric::i_s), h, u), k + 1, row};
  }
  /// Covariance of two passing times, eq. (5.3).
  [[nodiscard]] double covariance(const Passing& a, const Passing& b) const {
    return posterior.block(a.at, b.at)(a.row, b.row) / (a.slope * b.slope);
  }
};

/// Normal laws, mixed.
struct Mixture {
  struct Part {
    double weight;
    double mean;
    double variance;
  };
  std::vector<Part> parts;

  [[nodiscard]] double mean() const {
    double sum = 0.0;
    double total = 0.0;
    for (const Part& p : parts) {
      sum += p.weight * p.mean;
      total += p.weight;
    }
    return sum / total;
  }
  [[nodiscard]] double sd() const {
    double sum = 0.0;
    double total = 0.0;
    for (const Part& p : parts) {
      sum += p.weight * (p.variance + (p.mean - mean()) * (p.mean - mean()));
      total += p.weight;
    }
    return std::sqrt(sum / total);
  }
  [[nodiscard]] double quantile(double share) const {
    const auto below = [&](double x) {
      double sum = 0.0;
      double total = 0.0;
      for (const Part& p : parts) {
        sum += p.weight * 0.5 * std::erfc((p.mean - x) / std::sqrt(2.0 * p.variance));
        total += p.weight;
      }
      return sum / total - share;
    };
    return bisected(below, mean() - 20.0 * sd(), mean() + 20.0 * sd());
  }
};

/// All paths of a posterior, each written out.
std::vector<DensePath> dense_paths(const DenseCase& c) {
  std::vector<DensePath> out;
  for (std::size_t h = 0; h < c.hypotheses.size(); ++h) {
    const DenseLaunch launch = c.launch(h);
    for (const SmoothedPath& path : launch_posterior(c.window, c.model, {c.hypotheses[h]}).paths) {
      if (path.weight >= least_path_weight) {
        const auto slow = c.slow_error(launch, path.t_s.front());
        const double tau_s = c.hypotheses[h].hypothesis.filter.lag_s;
        out.push_back({path.t_s, dense_posterior(dense_ride(launch, path.t_s, slow)), path.weight,
                       path.launch_width_s, tau_s * tau_s / 100.0});
      }
    }
  }
  return out;
}

void check(const Estimate& found, const Mixture& exact) {
  const double tolerance = relative * exact.sd();
  CHECK_THAT(found.value, WithinAbs(exact.mean(), tolerance));
  CHECK_THAT(found.sd, WithinAbs(exact.sd(), tolerance));
  CHECK_THAT(found.lo95, WithinAbs(exact.quantile(0.025), tolerance));
  CHECK_THAT(found.hi95, WithinAbs(exact.quantile(0.975), tolerance));
}

const Split& named(const Run& run, const std::string& name) {
  const auto found =
      std::find_if(run.splits.begin(), run.splits.end(), [&](const Split& s) { return s.spec.name == name; });
  REQUIRE(found != run.splits.end());
  return *found;
}

/// Time from the first foot, or from another place or speed, to a mark, but for what the filter leaves open.
Mixture path_duration(const std::vector<DensePath>& paths, int from_row, double from, int to_row, double to) {
  Mixture out;
  for (const DensePath& path : paths) {
    const auto a = path.passing(from_row, from);
    const auto b = path.passing(to_row, to);
    out.parts.push_back({path.weight, b.t_s - a.t_s,
                         path.covariance(a, a) + path.covariance(b, b) - 2.0 * path.covariance(a, b)});
  }
  return out;
}

/// Time from the start of the clock, or from another mark, to a mark.
Mixture duration(const std::vector<DensePath>& paths, int from_row, double from, int to_row, double to) {
  Mixture out = path_duration(paths, from_row, from, to_row, to);
  const bool from_rest = from_row == numeric::i_s && from == rollout_m;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    out.parts[i].variance += (from_rest ? 1.0 : 0.25) * paths[i].clock_variance;
  }
  return out;
}

double weight_of(const LaunchPosterior& posterior) {
  double sum = 0.0;
  for (const SmoothedPath& path : posterior.paths) {
    sum += path.weight;
  }
  return sum;
}

}  // namespace

TEST_CASE("splits are the mixture of the joint normals' crossing times", "[run]") {
  const auto splits = parse_splits("0-10 mph, 5-15 mph, 5 m, 3-6 m");
  for (const DenseCase& c : dense_cases()) {
    CAPTURE(c.name);
    const Run run = timed_run(launch_posterior(c.window, c.model, c.hypotheses), splits, window_start, end_s);
    const std::vector<DensePath> paths = dense_paths(c);
    const int v = numeric::i_v;
    const int s = numeric::i_s;
    check(named(run, "0-10 mph").rollout, duration(paths, s, rollout_m, v, 10.0 * mps_per_mph));
    check(named(run, "5-15 mph").rollout, duration(paths, v, 5.0 * mps_per_mph, v, 15.0 * mps_per_mph));
    check(named(run, "5 m").rollout, duration(paths, s, rollout_m, s, 5.0));
    check(named(run, "3-6 m").rollout, duration(paths, s, 3.0, s, 6.0));
  }
}

TEST_CASE("what runs share is what each hypothesis alone would give", "[run]") {
  const auto splits = parse_splits("0-10 mph, 3-6 m");
  for (DenseCase& c : dense_cases()) {
    CAPTURE(c.name);
    c.hypotheses[1].part = 1;
    const Run run = timed_run(launch_posterior(c.window, c.model, c.hypotheses), splits, window_start, end_s);
    for (const Split& split : run.splits) {
      REQUIRE(split.rollout_shared_s.size() == 3);  // the filter is the log's
      double shared = 0.0;
      for (std::size_t h = 0; h < 2; ++h) {
        const LaunchPosterior all = launch_posterior(c.window, c.model, c.hypotheses);
        LaunchPosterior alone = all;
        std::erase_if(alone.paths, [&](const SmoothedPath& path) { return path.part != h; });
        const double weight = weight_of(alone) / weight_of(all);
        for (SmoothedPath& path : alone.paths) {
          path.weight /= weight;
        }
        const Run under = timed_run(alone, splits, window_start, end_s);
        const double off = named(under, split.spec.name).rollout.value - split.rollout.value;
        CHECK_THAT(split.rollout_shared_s[h], WithinAbs(std::sqrt(weight) * off, 1e-9));
        shared += weight * off * off;
      }
      double discrepancy_s2 = 0.0;
      double total = 0.0;
      for (const SmoothedPath& path : launch_posterior(c.window, c.model, c.hypotheses).paths) {
        const double tau_s = c.hypotheses[path.part].hypothesis.filter.lag_s;
        discrepancy_s2 += path.weight * tau_s * tau_s / (split.spec.from_rest() ? 100.0 : 400.0);
        total += path.weight;
      }
      CHECK_THAT(split.rollout_shared_s[2], WithinAbs(std::sqrt(discrepancy_s2 / total), 1e-9));
      shared += discrepancy_s2 / total;
      CHECK_THAT(shared_covariance(split.rollout_shared_s, split.rollout_shared_s), WithinAbs(shared, 1e-9));
      CHECK(shared < split.rollout.sd * split.rollout.sd);
      CHECK(shared_covariance(split.rollout_shared_s, {}) == 0.0);
    }
  }
}

TEST_CASE("clock start, edges and the time from first movement are those of the joint normals", "[run]") {
  for (const DenseCase& c : dense_cases()) {
    CAPTURE(c.name);
    const Run run = timed_run(launch_posterior(c.window, c.model, c.hypotheses), parse_splits("0-10 mph"),
                              window_start, end_s);
    const std::vector<DensePath> paths = dense_paths(c);
    const double creep_s = c.model.unseen_creep_s;
    Mixture clock;
    Mixture movement;
    double total = 0.0;
    for (const DensePath& path : paths) {
      const auto foot = path.passing(numeric::i_s, rollout_m);
      const auto mark = path.passing(numeric::i_v, 10.0 * mps_per_mph);
      clock.parts.push_back({path.weight, foot.t_s, path.covariance(foot, foot) + path.clock_variance});
      // (5.4): half as fitted, half after creeping unseen, evenly up to the longest time.
      const double t_s = mark.t_s - path.t_s.front();
      const double variance = path.covariance(mark, mark) + path.launch_width_s * path.launch_width_s / 12.0;
      movement.parts.push_back({0.5 * path.weight, t_s, variance});
      movement.parts.push_back({0.5 * path.weight, t_s + creep_s / 2.0, variance + creep_s * creep_s / 12.0});
      total += path.weight;
    }
    CHECK_THAT(seconds_between(window_start, run.clock_start), WithinAbs(clock.mean(), 1e-6));  // stamps
    CHECK_THAT(run.clock_sd_s, WithinAbs(clock.sd(), relative * clock.sd()));
    const Estimate& found = run.splits.front().movement;
    CHECK_THAT(found.value, WithinAbs(movement.mean(), relative * movement.sd()));
    CHECK_THAT(found.sd, WithinAbs(movement.sd(), relative * movement.sd()));
    REQUIRE(run.edges.size() > 4);
    for (std::size_t i = 1; i < run.edges.size(); ++i) {
      const SpeedEdge& edge = run.edges[i];
      CAPTURE(edge.v_mps);
      const Mixture t = path_duration(paths, numeric::i_s, rollout_m, numeric::i_v, edge.v_mps);
      CHECK_THAT(edge.t_s, WithinAbs(t.mean(), relative * t.sd()));
      CHECK_THAT(edge.sd_s, WithinAbs(t.sd(), relative * t.sd()));
      double travel_m = 0.0;
      for (const DensePath& path : paths) {
        travel_m += path.weight / total * path.passing(numeric::i_v, edge.v_mps).travel_m;
      }
      CHECK_THAT(edge.s_m, WithinAbs(travel_m, relative));
    }
  }
}

TEST_CASE("the curve of a run is the likeliest path of the joint normals", "[run]") {
  const DenseCase c = dense_cases().at(4);
  const Run run = timed_run(launch_posterior(c.window, c.model, c.hypotheses), parse_splits("0-10 mph"),
                            window_start, end_s);
  const std::vector<DensePath> paths = dense_paths(c);
  const auto likeliest = std::max_element(
      paths.begin(), paths.end(), [](const DensePath& a, const DensePath& b) { return a.weight < b.weight; });
  for (std::size_t i = 0; i < run.curve.t_s.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    const auto cov = likeliest->posterior.block(at, at);
    CAPTURE(i);
    CHECK_THAT(run.curve.v_mps[i], WithinAbs(likeliest->posterior.state(at)(numeric::i_v), relative));
    CHECK_THAT(run.curve.sd_mps[i],
               WithinAbs(std::sqrt(std::max(0.0, cov(numeric::i_v, numeric::i_v))), relative));
    CHECK_THAT(run.curve.sd_mps2[i], WithinAbs(std::sqrt(cov(numeric::i_a, numeric::i_a)), relative));
    CHECK_THAT(run.curve.s_m[i], WithinAbs(likeliest->posterior.state(at)(numeric::i_s), relative));
  }
}

TEST_CASE("a mark that is reached on seven paths of ten is no split, on nine it is", "[run]") {
  const DenseCase c = dense_cases().at(1);
  const auto reached_by = [&](double share) {
    LaunchPosterior posterior = launch_posterior(c.window, c.model, {c.hypotheses[0]});
    posterior.paths.resize(2, posterior.paths.front());
    posterior.paths[0].weight = share;
    posterior.paths[1] = posterior.paths[0];
    posterior.paths[1].weight = 1.0 - share;
    for (numeric::State& x : posterior.paths[1].mean) {
      x(numeric::i_v) = std::min(x(numeric::i_v), 3.0);
    }
    return timed_run(posterior, parse_splits("0-10 mph"), window_start, end_s).splits.size();
  };
  CHECK(reached_by(0.7) == 0);
  CHECK(reached_by(0.9) == 1);
}
