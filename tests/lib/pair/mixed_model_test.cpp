// The mixed model against the dense joint normal, against Student's t, and by seeded trials.
#include "bothways/pair/mixed_model.hpp"

#include "bothways/numeric/mixture.hpp"
#include "bothways/pair/uncertainty_components.hpp"

#include <Eigen/Dense>
#include <boost/math/distributions/students_t.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <stdexcept>
#include <utility>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Two sides over two days, three logs of which one holds both sides, blocks and pairs.
std::vector<Outcome> nested() {
  std::vector<Outcome> outcomes;
  const auto add = [&](double value, double own, int side, int day, std::size_t log, int block) {
    outcomes.push_back({.value = value,
                        .own_sd = own,
                        .log_sd = 0.015,
                        .visit_sd = 0.01,
                        .day_sd = 0.012,
                        .side = side,
                        .day = day,
                        .log = log,
                        .block = block});
  };
  add(5.00, 0.02, 0, 0, 0, 0);
  add(5.11, 0.03, 0, 0, 0, 0);
  add(5.06, 0.02, 0, 0, 0, 2);
  add(4.90, 0.02, 1, 0, 0, 1);
  add(4.84, 0.01, 1, 0, 0, 1);
  add(4.95, 0.02, 1, 1, 1, 3);
  add(5.20, 0.04, 0, 1, 2, 4);
  add(5.02, 0.02, 0, 1, 2, 4);
  return outcomes;
}

/// V of all outcomes, written down entry by entry.
Eigen::MatrixXd covariance_of(const std::vector<Outcome>& x, const Scatters& t) {
  const auto n = static_cast<Eigen::Index>(x.size());
  Eigen::MatrixXd v = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const Outcome& a = x[static_cast<std::size_t>(i)];
      const Outcome& b = x[static_cast<std::size_t>(j)];
      v(i, j) += i == j ? a.own_sd * a.own_sd + t.pair_s * t.pair_s : 0.0;
      v(i, j) += a.block == b.block ? t.block_s * t.block_s : 0.0;
      v(i, j) += a.log == b.log ? a.log_sd * b.log_sd : 0.0;
      v(i, j) += a.day == b.day ? t.day_s * t.day_s + a.day_sd * b.day_sd : 0.0;
      v(i, j) += a.day == b.day && a.side == b.side ? a.visit_sd * b.visit_sd : 0.0;
    }
  }
  return v;
}

struct Dense {
  Eigen::Vector2d mean;
  Eigen::Matrix2d covariance;
  double log_likelihood = 0.0;  // restricted: mu integrated out
};

Dense dense(const std::vector<Outcome>& x, const Scatters& t) {
  const auto n = static_cast<Eigen::Index>(x.size());
  Eigen::MatrixXd design = Eigen::MatrixXd::Zero(n, 2);
  Eigen::VectorXd value(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    design(i, x[static_cast<std::size_t>(i)].side) = 1.0;
    value(i) = x[static_cast<std::size_t>(i)].value;
  }
  const Eigen::MatrixXd v = covariance_of(x, t);
  const Eigen::MatrixXd precision = v.inverse();
  Dense out;
  out.covariance = (design.transpose() * precision * design).inverse();
  out.mean = out.covariance * design.transpose() * precision * value;
  const Eigen::VectorXd off = value - design * out.mean;
  out.log_likelihood = -0.5 * std::log(v.determinant()) + 0.5 * std::log(out.covariance.determinant()) -
                       0.5 * off.dot(precision * off);
  return out;
}

std::vector<numeric::NormalPart> parts_of(const MixedPosterior& posterior, double before, double after) {
  std::vector<numeric::NormalPart> parts;
  for (const auto& node : posterior.nodes) {
    const Contrast contrast{before, after};
    parts.push_back({node.weight, mean_of(node, contrast), variance_of(node, contrast)});
  }
  return parts;
}

}  // namespace

TEST_CASE("every node of the mixed model is that of the dense joint normal", "[pair]") {
  const auto outcomes = nested();
  const MixedPosterior posterior = mixed_posterior(outcomes, {0.05, 0.02, 0.04}, 2);
  REQUIRE(posterior.nodes.size() > 500);
  for (std::size_t i = 0; i < posterior.nodes.size(); i += 37) {
    const auto& node = posterior.nodes[i];
    const Dense exact = dense(outcomes, node.scatter);
    CAPTURE(i, node.scatter.pair_s, node.scatter.block_s, node.scatter.day_s);
    for (std::size_t a = 0; a < 2; ++a) {
      const auto i_a = static_cast<Eigen::Index>(a);
      CHECK_THAT(node.mean[a], WithinAbs(exact.mean(i_a), 1e-9));
      for (std::size_t b = 0; b < 2; ++b) {
        CHECK_THAT(node.covariance[a][b],
                   WithinRel(exact.covariance(i_a, static_cast<Eigen::Index>(b)), 1e-8));
      }
    }
  }
}

TEST_CASE("weights of scatters are prior times restricted likelihood", "[pair]") {
  const auto outcomes = nested();
  const MixedPosterior posterior = mixed_posterior(outcomes, {0.05, 0.0, 0.0}, 2);  // pairs' scatter alone
  const boost::math::students_t law(3.0);
  // Between nodes the prior's mass goes, to second order in their distance, as density times sd.
  const auto expected = [&](const MixedPosterior::Node& node) {
    return dense(outcomes, node.scatter).log_likelihood +
           std::log(boost::math::pdf(law, node.scatter.pair_s / 0.05) * node.scatter.pair_s);
  };
  for (std::size_t i = 5; i + 1 < posterior.nodes.size(); ++i) {
    const auto& node = posterior.nodes[i];
    const auto& last = posterior.nodes[i - 1];
    if (i > 5 && node.weight > 1e-4 && last.weight > 1e-4) {
      CHECK_THAT(std::log(node.weight / last.weight), WithinAbs(expected(node) - expected(last), 0.03));
    }
  }
}

TEST_CASE("without measurement error and with a flat prior a side is Student's", "[pair]") {
  // A flat prior of the scatter leaves Student's t with n - 2 degrees of freedom, of scale sqrt(SS / (n (n -
  // 2))). Data: R's data set sleep, second group [RSLEEP].
  const std::vector<double> values{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};
  std::vector<Outcome> outcomes;
  double mean = 0.0;
  for (const double value : values) {
    outcomes.push_back({.value = value});
    mean += value / 10.0;
  }
  double squares = 0.0;
  for (const double value : values) {
    squares += (value - mean) * (value - mean);
  }
  const auto summary = numeric::summarise(parts_of(mixed_posterior(outcomes, {1000.0, 0.0, 0.0}), 1.0, 0.0));
  const double half =
      boost::math::quantile(boost::math::students_t(8.0), 0.975) * std::sqrt(squares / (10.0 * 8.0));
  CHECK_THAT(summary.mean, WithinAbs(2.33, 1e-9));
  CHECK_THAT(summary.hi95 - summary.mean, WithinRel(half, 0.005));
}

TEST_CASE("with many results a difference is the pooled t test's", "[pair]") {
  // NIST e-Handbook, AUTO83B [AUTO83B], as one outcome a side by its summary figures: n 249 and 79, means
  // 20.14458 and 30.48101, sds 6.41470 and 6.10771; pooled sd 6.34260, T = -12.62059, t(0.975, 326)
  // = 1.96727.
  const std::vector<Outcome> outcomes{
      {.value = 20.14458, .count = 249, .squares = 248 * 6.41470 * 6.41470},
      {.value = 30.48101, .count = 79, .squares = 78 * 6.10771 * 6.10771, .side = 1, .log = 1, .block = 1}};
  const auto summary =
      numeric::summarise(parts_of(mixed_posterior(outcomes, {200.0, 0.0, 0.0}, 2), -1.0, 1.0));
  CHECK_THAT(summary.mean, WithinAbs(10.33643, 1e-9));
  CHECK_THAT(summary.mean / summary.sd, WithinRel(12.62059, 0.01));
  CHECK_THAT(summary.hi95 - summary.mean, WithinRel(1.96727 * 10.33643 / 12.62059, 0.01));
}

TEST_CASE("the mean reaches the certified digits however large the offset", "[pair]") {
  // NIST StRD [STRD], NumAcc4: 10000000.2, then 500 times 10000000.1 and 10000000.3; mean 10000000.2, sd 0.1.
  std::vector<Outcome> outcomes{{.value = 10000000.2}};
  for (int i = 0; i < 500; ++i) {
    outcomes.push_back({.value = 10000000.1});
    outcomes.push_back({.value = 10000000.3});
  }
  const MixedPosterior posterior = mixed_posterior(outcomes, {1.0, 0.0, 0.0});
  CHECK_THAT(numeric::summarise(parts_of(posterior, 1.0, 0.0)).mean, WithinRel(10000000.2, 1e-13));
  CHECK_THAT(posterior.rms.pair_s, WithinRel(0.1, 0.01));
}

TEST_CASE("many outcomes leave the scatter hardly in doubt", "[pair]") {
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  std::vector<Outcome> outcomes;
  for (int i = 0; i < 400; ++i) {
    outcomes.push_back({.value = 5.0 + 0.05 * normal(random) + 0.02 * normal(random), .own_sd = 0.02});
  }
  const MixedPosterior posterior = mixed_posterior(outcomes, {0.1, 0.0, 0.0});
  CHECK_THAT(posterior.rms.pair_s, WithinRel(0.05, 0.1));
  double heaviest = 0.0;
  for (const auto& node : posterior.nodes) {
    heaviest = std::max(heaviest, node.weight);
  }
  CHECK(heaviest < 0.4);  // the grid is finer than the posterior is wide
}

TEST_CASE("components add up to the variance of the contrast", "[pair]") {
  const auto outcomes = nested();
  const Eigen::Vector2d contrast(-1.0, 1.0);
  const Scatters scatter{0.05, 0.02, 0.04};
  const UncertaintyComponents s = components_of(outcomes, scatter, 2, {-1.0, 1.0});
  const double variance = contrast.dot(dense(outcomes, scatter).covariance * contrast);
  CHECK_THAT(
      s.own * s.own + s.log * s.log + s.visit * s.visit + s.pair * s.pair + s.block * s.block + s.day * s.day,
      WithinRel(variance, 1e-6));
}

TEST_CASE("a mixed model wants outcomes of every side, all finite", "[pair]") {
  std::vector<Outcome> outcomes{{.value = 5.0}, {.value = 5.1}};
  CHECK_THROWS_AS(mixed_posterior(outcomes, {0.1, 0.0, 0.0}, 2), std::invalid_argument);
  outcomes[1].value = std::nan("");
  CHECK_THROWS_AS(mixed_posterior(outcomes, {0.1, 0.0, 0.0}), std::invalid_argument);
}

TEST_CASE("where the prior is true the interval of a difference holds 95 in 100, by observed scatter too",
          "[pair][trials]") {
  // Scatters are drawn from their own priors, so that the coverage is 0.95 by construction: 1200 trials have
  // an sd of 0.0063, quarters of it of 0.0126.
  std::mt19937_64 random(20261128);
  std::normal_distribution<double> normal;
  std::student_t_distribution<double> student(3.0);
  constexpr int trials = 1200;
  for (const auto& [pairs, days] : {std::pair{2, 1}, {3, 2}, {5, 1}}) {
    std::vector<std::pair<double, bool>> seen;  // observed scatter, held
    for (int trial = 0; trial < trials; ++trial) {
      const Scatters t{0.05 * std::abs(student(random)), 0.02 * std::abs(student(random)),
                       0.04 * std::abs(student(random))};
      std::vector<Outcome> outcomes;
      double squares = 0.0;
      for (int side = 0; side < 2; ++side) {
        for (int day = 0; day < days; ++day) {
          const int key = 2 * day + (days > 1 ? side : 0);  // several days: each side on days of its own
          const double shift = (days > 1 ? t.day_s * normal(random) : 0.0) + t.block_s * normal(random);
          double first = 0.0;
          for (int k = 0; k < pairs; ++k) {
            const double off = t.pair_s * normal(random) + 0.02 * normal(random);
            first = k == 0 ? off : first;
            squares += (off - first) * (off - first);
            outcomes.push_back({.value = 5.0 + shift + off,
                                .own_sd = 0.02,
                                .side = side,
                                .day = key,
                                .log = static_cast<std::size_t>(2 * day + side),
                                .block = 2 * day + side});
          }
        }
      }
      const auto summary =
          numeric::summarise(parts_of(mixed_posterior(outcomes, {0.05, 0.02, 0.04}, 2), -1.0, 1.0));
      seen.emplace_back(squares, summary.lo95 <= 0.0 && summary.hi95 >= 0.0);
    }
    std::sort(seen.begin(), seen.end());
    int held = 0;
    for (int quarter = 0; quarter < 4; ++quarter) {
      int of_quarter = 0;
      for (int i = quarter * trials / 4; i < (quarter + 1) * trials / 4; ++i) {
        of_quarter += seen[static_cast<std::size_t>(i)].second ? 1 : 0;
      }
      held += of_quarter;
      CAPTURE(pairs, days, quarter, of_quarter);
      CHECK(of_quarter >= 270);  // 90 of 100, four sd below
    }
    CAPTURE(pairs, days, held);
    CHECK(held >= 1110);
    CHECK(held <= 1170);
  }
}
