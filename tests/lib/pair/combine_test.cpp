#include "bothways/pair/combine.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

MeanOf mean_of_exact(const std::vector<double>& values) {
  return mean_of(values, std::vector<double>(values.size(), 0.0));
}

}  // namespace

TEST_CASE("the end gauge of the guide: combined uncertainty and effective degrees of freedom", "[pair]") {
  // [GUM] H.1, nm: standard l_s; length difference d from 5.8 (24), 3.9 (5), 6.7 (8); expansion; temperature.
  const auto chain = [](double comparator, double systematic) {
    const Part d = combine(std::array{Part{5.8, 24}, Part{comparator, 5}, Part{systematic, 8}});
    const double l_s = 50'000'623.0;
    const double expansion = l_s * 0.1 * (1e-6 / std::sqrt(3.0));
    const double temperature = l_s * 11.5e-6 * (0.05 / std::sqrt(3.0));
    return std::pair{d, combine(std::array{Part{25.0, 18}, d, Part{expansion, 50}, Part{temperature, 2}})};
  };
  const auto [d, whole] = chain(10.0 / 2.5705818366, 20.0 / 3.0);
  CHECK_THAT(d.sd, WithinAbs(9.7, 0.05));
  CHECK_THAT(d.degrees_of_freedom, WithinAbs(25.6, 0.05));
  CHECK_THAT(whole.sd, WithinAbs(31.65563, 1e-3));
  CHECK_THAT(whole.degrees_of_freedom, WithinAbs(16.73593, 1e-3));
  // With the inputs as printed; the guide truncates to 16.
  const auto [printed_d, printed] = chain(3.9, 6.7);
  CHECK_THAT(printed_d.sd, WithinAbs(9.681942, 1e-6));
  CHECK_THAT(printed_d.degrees_of_freedom, WithinAbs(25.447, 1e-3));
  CHECK_THAT(printed.sd, WithinAbs(31.66388, 1e-3));
  CHECK_THAT(printed.degrees_of_freedom, WithinAbs(16.75186, 1e-3));
}

TEST_CASE("the product of three: Welch and Satterthwaite", "[pair]") {
  // [GUM] G.4.1, relative per cent: n = 10, 5, 15 readings.
  const Part whole = combine(std::array{Part{0.25, 9}, Part{0.57, 4}, Part{0.82, 14}});
  CHECK_THAT(whole.sd, WithinAbs(1.03, 0.005));
  CHECK_THAT(whole.degrees_of_freedom, WithinAbs(18.9987, 1e-4));
  // Two components, one of them known.
  CHECK_THAT(combine(std::array{Part{0.57, 9}, Part{0.25}}).degrees_of_freedom, WithinAbs(12.7956, 1e-4));
  // Four with sensitivities 1 2 3 0.5.
  const Part four = combine(std::array{Part{0.1}, Part{0.6, 6}, Part{0.6, 8}, Part{0.55, 3}});
  CHECK_THAT(four.sd, WithinAbs(1.016120, 1e-6));
  CHECK_THAT(four.degrees_of_freedom, WithinAbs(15.60796, 1e-5));
  CHECK(std::isinf(combine(std::array{Part{1.0}, Part{2.0}}).degrees_of_freedom));
}

TEST_CASE("the five readings of the guide, evaluated row by row", "[pair]") {
  // [GUM] H.2, second approach: resistance, reactance, impedance from V, I, phi; mean and its uncertainty.
  const std::array v{5.007, 4.994, 5.005, 4.990, 4.999};
  const std::array i{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3};
  const std::array phi{1.0456, 1.0438, 1.0468, 1.0428, 1.0433};
  std::vector<double> r;
  std::vector<double> x;
  std::vector<double> z;
  for (std::size_t k = 0; k < 5; ++k) {
    z.push_back(v[k] / i[k]);
    r.push_back(z.back() * std::cos(phi[k]));
    x.push_back(z.back() * std::sin(phi[k]));
  }
  for (const auto& [row, value, u] :
       {std::tuple{r, 127.732, 0.071}, {x, 219.847, 0.295}, {z, 254.260, 0.236}}) {
    const MeanOf mean = mean_of_exact(row);
    CHECK_THAT(mean.value, WithinAbs(value, 0.001));
    CHECK_THAT(mean.estimate.sd, WithinAbs(u, 0.001));
    // Student with 4 degrees of freedom, [GUM] table G.2.
    CHECK_THAT(mean.estimate.hi95 - mean.value, WithinRel(2.77645 * mean.estimate.sd, 1e-5));
  }
}

TEST_CASE("mean and scatter reach the certified digits", "[pair]") {
  // NIST StRD [STRD]: the sets that a rule generates. Tolerances are those of a reference library's
  // tests.
  const MeanOf acc1 = mean_of_exact({10000001, 10000003, 10000002});
  CHECK_THAT(acc1.value, WithinRel(10000002.0, 1e-15));
  CHECK_THAT(acc1.scatter, WithinRel(1.0, 1e-13));
  struct Case {
    double base;
    double mean_tolerance;
    double scatter_tolerance;
  };
  for (const Case& c : {Case{1.0, 1e-15, 1e-13}, {1'000'000.0, 1e-15, 1e-9}, {10'000'000.0, 1e-15, 1e-7}}) {
    CAPTURE(c.base);
    std::vector<double> values{c.base + 0.2};
    for (int k = 0; k < 500; ++k) {
      values.push_back(c.base + 0.1);
      values.push_back(c.base + 0.3);
    }
    const MeanOf mean = mean_of_exact(values);
    CHECK_THAT(mean.value, WithinRel(c.base + 0.2, c.mean_tolerance));
    CHECK_THAT(mean.scatter, WithinRel(0.1, c.scatter_tolerance));
  }
}

TEST_CASE("Student quantiles agree with the published table", "[pair]") {
  // GUM table G.2 and the usual t tables, docs/sources.md [GUM].
  for (const auto& [nu, t] : {std::pair{1.0, 12.7062},
                              {2.0, 4.30265},
                              {3.0, 3.18245},
                              {4.0, 2.77645},
                              {5.0, 2.57058},
                              {6.0, 2.44691},
                              {7.0, 2.36462},
                              {8.0, 2.30600},
                              {9.0, 2.26216},
                              {10.0, 2.22814},
                              {15.0, 2.13145},
                              {20.0, 2.08596},
                              {30.0, 2.04227},
                              {60.0, 2.00030},
                              {120.0, 1.97993}}) {
    CAPTURE(nu);
    CHECK_THAT(estimate_of(0.0, std::array{Part{1.0, nu}}).hi95, WithinAbs(t, 1e-5));
  }
  // Infinitely many are taken as a million.
  CHECK_THAT(estimate_of(0.0, std::array{Part{1.0}}).hi95, WithinAbs(1.959964, 3e-6));
}

TEST_CASE("the precision factors of coast-down tests are Student's", "[pair]") {
  // Factor h (t) by number of tests in [GTR15] and 70/220/EEC, from memory; n = 7 and 15 are printed
  // oddly.
  const std::array<double, 13> h{4.3, 3.2, 2.8, 2.6, 2.5, 2.4, 2.3, 2.3, 2.2, 2.2, 2.2, 2.2, 2.2};
  for (std::size_t k = 0; k < h.size(); ++k) {
    const auto n = static_cast<double>(k + 3);
    CAPTURE(n);
    CHECK_THAT(estimate_of(0.0, std::array{Part{1.0, n - 1.0}}).hi95, WithinAbs(h[k], n == 15 ? 0.07 : 0.06));
  }
  // Precision p = h s / (sqrt(n) mean): our own arithmetic on invented times.
  const MeanOf single = mean_of_exact({10.1, 10.3, 9.9, 10.2});
  CHECK_THAT(3.2 * single.estimate.sd / single.value, WithinAbs(0.026988, 1e-6));
}

TEST_CASE("opposite runs average as the coast-down rules prescribe", "[pair]") {
  // Harmonic mean of each pair, then harmonic mean over pairs as in [GTR15]; plain mean of pairs as in
  // 70/220/EEC; formulas from memory, times invented, p our own arithmetic.
  const std::array a{10.0, 10.2, 9.8, 10.4};
  const std::array b{12.0, 11.8, 12.3, 11.7};
  std::vector<double> harmonic;
  std::vector<double> plain;
  for (std::size_t k = 0; k < 4; ++k) {
    harmonic.push_back(2.0 / (1.0 / a[k] + 1.0 / b[k]));
    plain.push_back((a[k] + b[k]) / 2.0);
  }
  CHECK_THAT(harmonic[0], WithinAbs(10.909091, 1e-6));
  CHECK_THAT(harmonic[3], WithinAbs(11.011765, 1e-6));
  double inverse = 0.0;
  for (const double t : harmonic) {
    inverse += 0.25 / t;
  }
  CHECK_THAT(1.0 / inverse, WithinAbs(10.942657, 1e-6));
  CHECK_THAT(3.2 * mean_of_exact(harmonic).estimate.sd * inverse, WithinAbs(0.007095, 1e-6));
  const MeanOf arithmetic = mean_of_exact(plain);
  CHECK_THAT(3.2 * arithmetic.estimate.sd / arithmetic.value, WithinAbs(0.004189, 1e-6));
}

TEST_CASE("the measurement part of a mean is never lost", "[pair]") {
  const std::array equal{5.0, 5.0, 5.0};
  const std::array sd{0.03, 0.03, 0.03};
  const MeanOf quiet = mean_of(equal, sd);
  CHECK(quiet.scatter == 0.0);
  CHECK_THAT(quiet.estimate.sd, WithinRel(0.03 / std::sqrt(3.0), 1e-12));
  CHECK_THAT(quiet.estimate.hi95 - 5.0, WithinRel(1.959964 * 0.03 / std::sqrt(3.0), 1e-5));
  const MeanOf one = mean_of(std::array{5.0}, std::array{0.03});
  CHECK_THAT(one.estimate.sd, WithinRel(0.03, 1e-12));
  CHECK_THAT(one.estimate.hi95 - 5.0, WithinRel(1.959964 * 0.03, 1e-5));
  CHECK_THROWS_AS(mean_of(std::array{5.0, 6.0}, std::array{0.03}), std::invalid_argument);
  CHECK_THROWS_AS(mean_of(std::vector<double>{}, std::vector<double>{}), std::invalid_argument);
  CHECK_THROWS_AS(mean_of(std::array{std::nan("")}, std::array{0.1}), std::invalid_argument);
}

TEST_CASE("the p-value is the level at which the interval reaches zero", "[pair]") {
  // t(0.975, 4) = 2.77645, normal 1.95996: published quantiles.
  CHECK_THAT(p_value_of(2.77644510519, std::array{Part{1.0, 4}}), WithinAbs(0.05, 1e-9));
  CHECK_THAT(p_value_of(-1.95996398454, std::array{Part{0.0, 4}, Part{1.0}}), WithinAbs(0.05, 1e-6));
  const std::array parts{Part{1.0, 3}, Part{0.7}, Part{0.2, 1.5}};
  const Estimate all = estimate_of(0.0, parts);
  CHECK_THAT(all.sd, WithinAbs(std::sqrt(1.0 + 0.49 + 0.04), 1e-12));
  CHECK_THAT(p_value_of(all.hi95, parts), WithinAbs(0.05, 1e-9));
  CHECK(p_value_of(all.hi95 * 1.01, parts) < 0.05);
  CHECK(p_value_of(all.hi95 * 1e9, parts) < 1e-9);
  CHECK(p_value_of(0.0, parts) == 1.0);
  CHECK(p_value_of(1.0, std::array{Part{}}) == 0.0);
  CHECK_THROWS_AS(estimate_of(std::nan(""), parts), std::invalid_argument);
}

TEST_CASE("the interval of a mean holds the truth", "[pair]") {
  // 4000 trials a case: the sd of a coverage of 0.95 is 0.0034, three of them allowed. Above 95 % where
  // scatter is small: nobody can tell from a few results that there is none.
  std::mt19937_64 random(20260504);
  std::normal_distribution<double> normal;
  for (const std::size_t n : {2U, 3U, 4U, 5U, 6U}) {
    for (const double scatter : {0.0, 1.0, 3.0}) {
      CAPTURE(n, scatter);
      int held = 0;
      constexpr int trials = 4000;
      for (int trial = 0; trial < trials; ++trial) {
        std::vector<double> values;
        for (std::size_t k = 0; k < n; ++k) {
          values.push_back(normal(random) + scatter * normal(random));
        }
        const Estimate mean = mean_of(values, std::vector<double>(n, 1.0)).estimate;
        held += mean.lo95 <= 0.0 && mean.hi95 >= 0.0 ? 1 : 0;
      }
      const double coverage = static_cast<double>(held) / trials;
      CHECK(coverage >= 0.94);
      CHECK(coverage <= (scatter > 1.0 ? 0.97 : 0.998));
    }
  }
}
