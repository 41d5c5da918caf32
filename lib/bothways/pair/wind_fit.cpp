// docs/method.md, eq. (6.9): D = difference, kappa = kappa_per_s.
#include "bothways/core/units.hpp"
#include "bothways/numeric/square.hpp"
#include "bothways/pair/curve.hpp"
#include "bothways/pair/slope.hpp"
#include "bothways/pair/wind.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

namespace bothways {

namespace {

using numeric::square;

constexpr double slowest_mps = 4.0;  // below it clutch and traction decide
constexpr double band_mps = 2.0;
constexpr double drive_sd = 0.022;                               // of one start; common practice, no source
constexpr double mean_slope_sd = 0.06;                           // of a road
constexpr double gust_kappa_per_s = 0.0006;                      // mean gust of a run, times the usual k
constexpr std::array roughnesses{0.0008, 0.002, 0.0045, 0.009};  // sd of the slope about its mean
constexpr double least_sd_mps2 = 0.01;
constexpr std::size_t most_rows = 160;

/// The two accelerations of a pair in a band of speed.
struct Row {
  std::size_t pair = 0;
  double v_mps = 0.0;
  double a_mps2 = 0.0;
  double difference = 0.0;  // out less back, m/s^2, along the first pair's way
  std::size_t band = 0;
  std::array<double, 2> lower{};  // what an error of 1 sd in the time of its lower edge does, by run, m/s^2
  std::array<double, 2> upper{};
  double out_x_m = 0.0;  // place along the road
  double back_x_m = 0.0;
};

/// Places along the first run's line; out of the running where the log has none.
double along_m(const Run& first, const Run& run, double travel_m) {
  const LocalPlane plane(first.start);
  const PlanePoint end = plane.to_plane(first.end);
  const double length = std::hypot(end.east_m, end.north_m);
  const PlanePoint from = plane.to_plane(run.start);
  const PlanePoint to = plane.to_plane(run.end);
  const double x0 = (from.east_m * end.east_m + from.north_m * end.north_m) / length;
  const double x1 = (to.east_m * end.east_m + to.north_m * end.north_m) / length;
  return x0 + (x1 > x0 ? travel_m : -travel_m);
}

/// Error of the time at which a run passes a speed, but for that of its clock start, which is in all times.
double edge_sd_s(const Run& run, double v_mps) {
  const auto edge = std::find_if(run.edges.begin(), run.edges.end(),
                                 [&](const SpeedEdge& e) { return e.v_mps >= v_mps - 1e-9; });
  const double sd_s = edge == run.edges.end() ? run.edges.back().sd_s : edge->sd_s;
  constexpr double least_share = 0.25;  // of the variance: the two errors go together in part
  return std::sqrt(std::max(square(sd_s) - square(run.clock_sd_s), least_share * square(sd_s)));
}

/// When and where a run first reaches the whole m/s: its edges whatever splits it was asked for.
Course first_passage(const Run& run) {
  Run whole;
  for (const SpeedEdge& edge : run.edges) {
    if (std::abs(edge.v_mps - std::round(edge.v_mps)) < 1e-6) {
      whole.edges.push_back(edge);
    }
  }
  return course_of(whole);
}

/// Speeds that both runs pass, some apart.
std::vector<double> edges_of(const std::array<Course, 2>& courses) {
  const double lo = std::max({slowest_mps, courses[0].v_mps.front(), courses[1].v_mps.front()});
  const double hi = std::min(courses[0].v_mps.back(), courses[1].v_mps.back());
  const auto bands = std::floor((hi - lo) / band_mps);
  std::vector<double> edges;
  for (double k = 0.0; bands >= 1.0 && k <= bands; k += 1.0) {
    edges.push_back(lo + k * (hi - lo) / bands);
  }
  return edges;
}

void add_rows(const WindEvidence& pair, const Run& first, std::size_t index, std::vector<Row>& rows) {
  const std::array<const Run*, 2> runs{pair.out, pair.back};
  const std::array<Course, 2> courses{first_passage(*pair.out), first_passage(*pair.back)};
  if (courses[0].v_mps.size() < 2 || courses[1].v_mps.size() < 2) {
    return;
  }
  const std::array<Monotone, 2> time{Monotone(courses[0].v_mps, courses[0].t_s),
                                     Monotone(courses[1].v_mps, courses[1].t_s)};
  const std::array<Monotone, 2> travel{Monotone(courses[0].v_mps, courses[0].s_m),
                                       Monotone(courses[1].v_mps, courses[1].s_m)};
  const std::vector<double> v = edges_of(courses);
  for (std::size_t k = 1; k < v.size(); ++k) {
    Row row{.pair = index, .v_mps = (v[k] + v[k - 1]) / 2.0, .band = k};
    std::array<double, 2> a{};
    for (std::size_t r = 0; r < 2; ++r) {
      const double duration = time[r](v[k]) - time[r](v[k - 1]);
      a[r] = (v[k] - v[k - 1]) / duration;
      row.lower[r] = a[r] / duration * edge_sd_s(*runs[r], v[k - 1]);
      row.upper[r] = a[r] / duration * edge_sd_s(*runs[r], v[k]);
      (r == 0 ? row.out_x_m : row.back_x_m) = along_m(first, *runs[r], travel[r](row.v_mps));
    }
    row.a_mps2 = (a[0] + a[1]) / 2.0;
    row.difference = (pair.same_way ? 1.0 : -1.0) * (a[0] - a[1]);
    rows.push_back(row);
  }
}

/// Neighbouring bands share the error of the edge between them.
double receiver_covariance(const Row& a, const Row& b) {
  double sum = 0.0;
  for (std::size_t r = 0; r < 2; ++r) {
    if (a.band == b.band) {
      sum += square(a.lower[r]) + square(a.upper[r]) + square(least_sd_mps2) / 2.0;
    } else if (a.band + 1 == b.band) {
      sum -= a.upper[r] * b.lower[r];
    } else if (b.band + 1 == a.band) {
      sum -= b.upper[r] * a.lower[r];
    }
  }
  return sum;
}

double covariance_of(const Row& a, const Row& b, double roughness) {
  const auto slopes = [&](double x, double y) {
    return square(roughness) * slope_correlation(std::abs(x - y));
  };
  double sum = square(gravity_mps2) *
               (4.0 * square(mean_slope_sd) + slopes(a.out_x_m, b.out_x_m) + slopes(a.out_x_m, b.back_x_m) +
                slopes(a.back_x_m, b.out_x_m) + slopes(a.back_x_m, b.back_x_m));
  if (a.pair == b.pair) {
    sum += 2.0 * square(drive_sd) * a.a_mps2 * b.a_mps2 +
           16.0 * square(gust_kappa_per_s) * a.v_mps * b.v_mps + receiver_covariance(a, b);
  }
  return sum;
}

/// Of kappa alone, flat prior, on a road of one roughness.
struct LeastSquares {
  double kappa_per_s = 0.0;
  double sd_per_s = 0.0;
  double log_likelihood = 0.0;  ///< with kappa integrated out
};

std::optional<LeastSquares> least_squares(const std::vector<Row>& rows, double roughness) {
  const auto n = static_cast<Eigen::Index>(rows.size());
  Eigen::MatrixXd covariance(n, n);
  Eigen::VectorXd speed(n);
  Eigen::VectorXd difference(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Row& row = rows[static_cast<std::size_t>(i)];
    speed(i) = -4.0 * row.v_mps;
    difference(i) = row.difference;
    for (Eigen::Index j = 0; j <= i; ++j) {
      covariance(i, j) = covariance(j, i) = covariance_of(row, rows[static_cast<std::size_t>(j)], roughness);
    }
  }
  const Eigen::LLT<Eigen::MatrixXd> factor(covariance);
  const Eigen::VectorXd weighed = factor.solve(speed);
  const double information = weighed.dot(speed);
  if (factor.info() != Eigen::Success || !(information > 0.0)) {
    return std::nullopt;
  }
  LeastSquares fit{weighed.dot(difference) / information, std::sqrt(1.0 / information)};
  const Eigen::VectorXd off = difference - fit.kappa_per_s * speed;
  const double chi_square = off.dot(factor.solve(off));
  const Eigen::MatrixXd lower = factor.matrixL();
  fit.log_likelihood = -0.5 * chi_square - lower.diagonal().array().log().sum() - 0.5 * std::log(information);
  fit.sd_per_s *= std::sqrt(std::max(1.0, chi_square / static_cast<double>(n - 1)));
  return fit;
}

std::vector<Row> rows_of(std::span<const WindEvidence> pairs) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < pairs.size() && rows.size() < most_rows; ++i) {
    add_rows(pairs[i], *pairs.front().out, i, rows);
  }
  std::erase_if(rows, [](const Row& row) {
    return !std::isfinite(row.difference + row.lower[0] + row.lower[1] + row.out_x_m + row.back_x_m);
  });
  return rows;
}

}  // namespace

std::optional<double> spare_power_w_kg(std::span<const WindEvidence> pairs) {
  std::vector<double> powers;
  for (const Row& row : rows_of(pairs)) {
    powers.push_back(row.a_mps2 * row.v_mps);
  }
  if (powers.empty()) {
    return std::nullopt;
  }
  const auto upper = powers.begin() + static_cast<std::ptrdiff_t>(powers.size() * 3 / 4);
  std::nth_element(powers.begin(), upper, powers.end());
  return *upper;
}

std::vector<WindFit> fit_wind(std::span<const WindEvidence> pairs) {
  const std::vector<Row> rows = rows_of(pairs);
  std::vector<WindFit> fits;
  std::vector<double> log_weights;
  for (const double roughness : roughnesses) {
    if (const auto fit = rows.size() < 2 ? std::nullopt : least_squares(rows, roughness)) {
      fits.push_back({0.0, fit->kappa_per_s, fit->sd_per_s});
      log_weights.push_back(fit->log_likelihood);
    }
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < fits.size(); ++i) {
    fits[i].weight = std::exp(log_weights[i] - *std::max_element(log_weights.begin(), log_weights.end()));
    sum += fits[i].weight;
  }
  for (WindFit& fit : fits) {
    fit.weight /= sum;
  }
  return fits;
}

}  // namespace bothways
