#include "bothways/launch/level_crossing.hpp"

#include <catch2/catch.hpp>

#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// Speeds at steps of 0.1 s, each with the same sd, as a path.
SmoothedPath path_of(const std::vector<double>& v_mps, double sd_mps) {
  SmoothedPath path;
  for (std::size_t i = 0; i < v_mps.size(); ++i) {
    numeric::State x = numeric::State::Zero();
    x(numeric::i_v) = v_mps[i];
    const std::size_t before = i == 0 ? 0 : i - 1;
    const std::size_t after = i + 1 == v_mps.size() ? i : i + 1;
    x(numeric::i_a) = (v_mps[after] - v_mps[before]) / (0.1 * static_cast<double>(after - before));
    path.t_s.push_back(0.1 * static_cast<double>(i));
    path.mean.push_back(x);
    path.cov.push_back(sd_mps * sd_mps * numeric::StateMatrix::Identity());
    if (i > 0) {
      path.lagged.push_back(numeric::StateMatrix::Identity());
    }
  }
  return path;
}

/// Up to a peak, a gear change that loses 0.4 m/s, and on.
std::vector<double> geared(double peak_mps) {
  std::vector<double> v;
  for (int i = 0; i <= 10; ++i) {
    v.push_back(peak_mps - 2.0 + 0.2 * i);
  }
  for (int i = 1; i <= 4; ++i) {
    v.push_back(peak_mps - 0.1 * i);
  }
  for (int i = 1; i <= 15; ++i) {
    v.push_back(peak_mps - 0.4 + 0.2 * i);
  }
  return v;
}

/// Of a path that ends later than they may lie.
std::vector<LikelyCrossing> crossings_of(const SmoothedPath& path, const Level& level) {
  constexpr double end_s = 9.0;
  return likely_crossings(path, rises_until(path, level.row, end_s), level, end_s);
}

}  // namespace

TEST_CASE("a mark well below a gear change has one crossing, that of the mean path", "[launch]") {
  const SmoothedPath path = path_of(geared(10.0), 0.05);
  const Level level{numeric::i_v, 9.1};
  const auto all = crossings_of(path, level);
  REQUIRE(all.size() == 1);
  CHECK_THAT(all[0].probability, WithinAbs(1.0, 1e-9));
  CHECK(all[0].at.t_s == first_crossing(path, level, 9.0)->t_s);
}

TEST_CASE("a mark at the very speed of a gear change may be crossed before or after it", "[launch]") {
  const auto all = crossings_of(path_of(geared(10.0), 0.05), {numeric::i_v, 10.0});
  REQUIRE(all.size() == 2);
  // From 2 to -1 m/s^2 within 0.2 s rounds off 3 * 0.2 / 8 = 0.075 m/s, known to 0.58 of it beside the path's
  // 0.05.
  CHECK_THAT(all[0].probability, WithinAbs(0.872, 0.01));
  CHECK_THAT(all[1].probability, WithinAbs(0.128, 0.01));
  CHECK_THAT(all[0].at.t_s, WithinAbs(1.0, 0.05));
  CHECK_THAT(all[1].at.t_s, WithinAbs(1.6, 0.05));
}

TEST_CASE("the odds of two crossings are those of the peak reaching the mark", "[launch]") {
  // 0.025 m/s below the sharp peak, whose sd is 0.066: it was reached with probability 0.646.
  const auto all = crossings_of(path_of(geared(10.0), 0.05), {numeric::i_v, 10.05});
  REQUIRE(all.size() == 2);
  CHECK_THAT(all[0].probability, WithinAbs(0.646, 0.01));
}

TEST_CASE("a wiggle of the acceleration is no second crossing", "[launch]") {
  std::vector<double> v;
  for (int i = 0; i <= 30; ++i) {
    v.push_back(5.0 + 0.2 * i + (i % 10 < 5 ? 0.05 : -0.05));
  }
  CHECK(crossings_of(path_of(v, 1.0), {numeric::i_v, 9.9}).size() == 1);
}

TEST_CASE("a mark just above a plateau may have been crossed at its knee, which the path rounds off",
          "[launch]") {
  std::vector<double> v;
  for (int i = 0; i <= 10; ++i) {
    v.push_back(5.0 + 0.5 * i);
  }
  for (int i = 1; i <= 4; ++i) {
    v.push_back(10.0 + 0.02 * i);
  }
  for (int i = 1; i <= 15; ++i) {
    v.push_back(10.08 + 0.4 * i);
  }
  // From 5 to 0.2 m/s^2 within 0.2 s: 4.8 * 0.2 / 8 = 0.12 m/s above the 10.02 of the path.
  const auto all = crossings_of(path_of(v, 0.05), {numeric::i_v, 10.14});
  REQUIRE(all.size() == 2);
  CHECK_THAT(all[0].probability, WithinAbs(0.5, 0.01));
  CHECK_THAT(all[0].at.t_s, WithinAbs(1.05, 0.06));
  CHECK_THAT(all[1].at.t_s, WithinAbs(1.43, 0.05));
  // A mark that the plateau is far above is crossed before it.
  CHECK(crossings_of(path_of(v, 0.05), {numeric::i_v, 8.0}).size() == 1);
}

TEST_CASE("a mark that is hardly reached has a probability below 1, and one out of reach no crossing",
          "[launch]") {
  std::vector<double> v{0.0, 1.0, 2.0, 3.0, 3.5, 3.6, 3.5, 3.0};
  const SmoothedPath path = path_of(v, 0.1);
  const auto hardly = crossings_of(path, {numeric::i_v, 3.6});
  REQUIRE(hardly.size() == 1);
  CHECK_THAT(hardly[0].probability, WithinAbs(0.5, 1e-9));
  CHECK(crossings_of(path, {numeric::i_v, 4.5}).empty());
}
