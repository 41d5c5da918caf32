#include "bothways/launch/level_crossing.hpp"

#include "lib/launch/made_up_paths.hpp"

#include <catch2/catch.hpp>

#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using made_up::path_of;

namespace {

std::vector<double> geared(double peak_mps) {
  return made_up::geared(peak_mps, peak_mps - 2.0);
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
  // From 2 to -1 m/s^2 from one step to the next but one: no path at such steps falls faster, so that only
  // 3 * 0.1 / 16 = 0.019 m/s may lie between them, known to 0.58 of it beside the path's 0.05.
  CHECK_THAT(all[0].probability, WithinAbs(0.643, 0.005));
  CHECK_THAT(all[1].probability, WithinAbs(0.357, 0.005));
  CHECK_THAT(all[0].at.t_s, WithinAbs(1.0, 0.05));
  CHECK_THAT(all[1].at.t_s, WithinAbs(1.6, 0.05));
}

TEST_CASE("the odds of two crossings are those of the peak reaching the mark", "[launch]") {
  // 0.031 m/s above the peak, whose sd is 0.051: it was reached with probability 0.271.
  const auto all = crossings_of(path_of(geared(10.0), 0.05), {numeric::i_v, 10.05});
  REQUIRE(all.size() == 2);
  CHECK_THAT(all[0].probability, WithinAbs(0.271, 0.005));
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
  // From 5 to 0.2 m/s^2 within two steps: 4.8 * 0.1 / 16 = 0.03 m/s above the 10.02 of the path.
  const auto all = crossings_of(path_of(v, 0.05), {numeric::i_v, 10.05});
  REQUIRE(all.size() == 2);
  CHECK_THAT(all[0].probability, WithinAbs(0.5, 0.01));
  CHECK_THAT(all[0].at.t_s, WithinAbs(1.05, 0.06));
  CHECK_THAT(all[1].at.t_s, WithinAbs(1.25, 0.05));
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
