#include "bothways/speed/outliers.hpp"

#include "lib/speed/stretches.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace bothways;

TEST_CASE("a jammed receiver's 247 km/h at rest is an excursion", "[speed]") {
  Stretch s = stretch_of({0.02, 0.05, 68.6, 68.9, 68.2, 0.04, 0.03});
  CHECK(mark_excursions(s) == 3);
  CHECK(outliers(s) == std::vector<bool>{false, false, true, true, true, false, false});
  CHECK(s.validity[3] == Validity::excursion);
}

TEST_CASE("zeros of a receiver that lost its satellites on the move are an excursion", "[speed]") {
  Stretch s = stretch_of({15.0, 15.1, 0.0, 0.0, 0.0, 15.3, 15.4});
  CHECK(mark_excursions(s) == 3);
  CHECK(outliers(s)[2]);
  CHECK_FALSE(outliers(s)[5]);
}

TEST_CASE("an excursion over a start ends where the vehicle may be by then", "[speed]") {
  std::vector<double> v(20, 0.03);
  v.insert(v.end(), 20, 68.6);
  v.insert(v.end(), {5.0, 5.3, 5.6});
  Stretch s = stretch_of(v);
  CHECK(mark_excursions(s) == 20);
  CHECK_FALSE(outliers(s)[40]);
}

TEST_CASE("hard acceleration, hard braking and a jump that stays are no excursion", "[speed]") {
  std::vector<double> v;
  for (int i = 0; i < 30; ++i) {
    v.push_back(0.9 * i);  // 9 m/s^2
  }
  for (int i = 0; i < 25; ++i) {
    v.push_back(26.0 - 1.0 * i);
  }
  Stretch s = stretch_of(v);
  CHECK(mark_excursions(s) == 0);
  Stretch stays = stretch_of({0.0, 0.0, 20.0, 20.0, 20.1, 20.2});
  CHECK(mark_excursions(stays) == 0);
}

TEST_CASE("a jump up and back or down and back is a spike, and a quick start is not", "[speed]") {
  std::vector<double> v(50, 10.0);
  v[20] = 15.0;
  v[30] = 4.0;
  Stretch s = stretch_of(v);
  CHECK(mark_spikes(s) == 2);
  CHECK(s.validity[20] == Validity::spike);
  CHECK(s.validity[30] == Validity::spike);
  CHECK(s.validity[25] == Validity::valid);
  CHECK(s.v_mps[20] == 15.0);  // it keeps its place and its figure
  std::vector<double> start(50, 0.0);
  for (std::size_t i = 25; i < start.size(); ++i) {
    start[i] = 10.0 * 0.1 * static_cast<double>(i - 24);  // 10 m/s^2
  }
  Stretch quick = stretch_of(start);
  CHECK(mark_spikes(quick) == 0);
}

TEST_CASE("two outliers side by side are a spike, and hard acceleration followed by braking is not",
          "[speed]") {
  std::vector<double> v(50, 20.0);
  v[30] = 21.4;  // 14 m/s^2 up
  v[31] = 21.3;  // 13 m/s^2 down
  Stretch s = stretch_of(v);
  CHECK(mark_spikes(s) == 2);
  CHECK(outliers(s)[30]);
  CHECK(outliers(s)[31]);
  for (std::size_t i = 0; i < v.size(); ++i) {
    const double t = 0.1 * static_cast<double>(i);
    v[i] = i < 25 ? 8.0 * t : 8.0 * 2.5 - 9.0 * (t - 2.5);
  }
  Stretch lift = stretch_of(v);
  CHECK(mark_spikes(lift) == 0);
}

TEST_CASE("good readings between two spikes stay valid", "[speed]") {
  std::vector<double> v{0.0, 0.1, 5.6, 0.7, 1.0, 1.3, 5.4, 1.9, 2.2};
  Stretch s = stretch_of(v);
  CHECK(mark_spikes(s) == 2);
  CHECK(outliers(s) == std::vector<bool>{false, false, true, false, false, false, true, false, false});
}

TEST_CASE("two single spikes seconds apart are no excursion", "[speed]") {
  std::vector<double> v(60, 10.0);
  v[20] = 17.5;  // up by a jump, and back by not quite one
  v[50] = 2.4;
  v[51] = 9.9;
  Stretch s = stretch_of(v);
  CHECK(mark_spikes(s) + mark_excursions(s) == 2);
}

TEST_CASE("a spike beside the first or the last reading does not take that along", "[speed]") {
  Stretch first = stretch_of({0.0, 9.0, 0.1, 0.0, 0.1});
  CHECK(mark_spikes(first) == 1);
  CHECK(outliers(first) == std::vector<bool>{false, true, false, false, false});
  Stretch last = stretch_of({0.0, 0.1, 0.0, 9.0, 0.1});
  CHECK(mark_spikes(last) == 1);
  CHECK(outliers(last) == std::vector<bool>{false, false, false, true, false});
}

TEST_CASE("a first reading that is a spike begins no excursion", "[speed]") {
  Stretch s = stretch_of({20.0, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 9.0, 17.0, 17.0, 17.0});
  CHECK(mark_spikes(s) + mark_excursions(s) == 1);
  CHECK(outliers(s)[0]);
}
