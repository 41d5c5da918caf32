#include "bothways/speed/unreachable.hpp"

#include "lib/speed/stretches.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>
#include <vector>

using namespace bothways;

namespace {

/// Total noise 0.05 m/s.
Receiver quiet() {
  Receiver r;
  r.white_sd_mps = 0.03;
  r.slow_sd_mps = 0.04;
  return r;
}

/// So many seconds at one speed, 10 Hz.
void add(std::vector<double>& v_mps, double duration_s, double speed_mps) {
  v_mps.insert(v_mps.end(), static_cast<std::size_t>(10.0 * duration_s + 0.5), speed_mps);
}

std::size_t count(const Stretch& s, Validity validity) {
  return static_cast<std::size_t>(std::count(s.validity.begin(), s.validity.end(), validity));
}

}  // namespace

TEST_CASE("a minute at another speed between two jumps is unreachable, a little more is not", "[speed]") {
  for (const double piece_s : {20.0, 59.9, 60.3}) {
    std::vector<double> v;
    add(v, 100.0, 0.0);
    add(v, piece_s, 30.0);
    add(v, 100.0, 0.0);
    Stretch s = stretch_of(v);
    CAPTURE(piece_s);
    const bool goes = piece_s < 60.0;
    CHECK(mark_unreachable(s, quiet()) ==
          (goes ? static_cast<std::size_t>(10.0 * piece_s + 0.5) : std::size_t{0}));
    CHECK((s.validity[1005] == Validity::unreachable) == goes);
    CHECK(s.validity[999] == Validity::valid);
  }
}

TEST_CASE("a jump that stays leaves both of its sides, but for a few seconds at an end", "[speed]") {
  for (const double end_s : {11.9, 12.3}) {
    std::vector<double> v;
    add(v, 100.0, 20.0);
    add(v, end_s, 0.0);
    Stretch s = stretch_of(v);
    CAPTURE(end_s);
    const bool goes = end_s < 12.0;
    CHECK(mark_unreachable(s, quiet()) == (goes ? std::size_t{119} : std::size_t{0}));
  }
}

TEST_CASE("an outlier that only one side betrays is a spike, and costs nothing beside it", "[speed]") {
  std::vector<double> v;
  add(v, 30.0, 10.0);
  v.insert(v.end(), {11.5, 13.0});  // up by what might be the engine, down by what nothing can do
  add(v, 30.0, 10.0);
  Stretch s = stretch_of(v);
  CHECK(mark_unreachable(s, quiet()) == 1);
  CHECK(s.validity[300] == Validity::valid);
  CHECK(s.validity[301] == Validity::spike);
  CHECK(count(s, Validity::valid) == v.size() - 1);
}

TEST_CASE("no more than three samples within a second are taken for such a spike", "[speed]") {
  for (const std::size_t wrong : {std::size_t{3}, std::size_t{4}}) {
    std::vector<double> v;
    add(v, 100.0, 10.0);
    v.insert(v.end(), wrong, 60.0);  // no vehicle is back from there in half a second
    add(v, 100.0, 10.0);
    Stretch s = stretch_of(v);
    CHECK(mark_unreachable(s, quiet()) == wrong);
    CHECK(count(s, wrong == 3 ? Validity::spike : Validity::unreachable) == wrong);
  }
  Stretch slow = stretch_of({10.0, 10.0, 60.0, 10.0, 10.0, 10.0}, 1.0);  // two seconds round it
  CHECK(mark_unreachable(slow, quiet()) == 1);
  CHECK(slow.validity[2] == Validity::unreachable);
}

TEST_CASE("noise, coarse figures and a held zero widen what counts as reachable", "[speed]") {
  const auto valid = [](double jump_mps, const Receiver& r) {
    std::vector<double> v;
    add(v, 100.0, 0.0);
    add(v, 5.0, jump_mps);
    Stretch s = stretch_of(v);
    return mark_unreachable(s, r) == 0;
  };
  const double bare_mps = 14.0 * 0.1 + 0.5;
  Receiver r = quiet();
  CHECK(valid(bare_mps + 4.0 * 0.05 - 0.01, r));
  CHECK_FALSE(valid(bare_mps + 4.0 * 0.05 + 0.01, r));
  r.resolution_mps = 0.5;
  CHECK(valid(bare_mps + 4.0 * 0.05 + 0.49, r));
  CHECK_FALSE(valid(bare_mps + 4.0 * 0.05 + 0.51, r));
  r.zero_hold_mps = 2.0;
  CHECK(valid(bare_mps + 4.0 * 0.05 + 2.49, r));
  CHECK_FALSE(valid(bare_mps + 4.0 * 0.05 + 2.51, r));
}

TEST_CASE("hard acceleration and braking with noise are reachable throughout", "[speed]") {
  sim::Random random(7);
  std::vector<double> v;
  for (int i = 0; i < 600; ++i) {
    const double t_s = 0.1 * (i % 60);
    v.push_back(std::abs((t_s < 3.0 ? 10.0 * t_s : 10.0 * (6.0 - t_s)) + 0.05 * random.normal()));
  }
  Stretch s = stretch_of(v);
  CHECK(mark_unreachable(s, quiet()) == 0);
}

TEST_CASE("a speed above the fastest is unreachable wherever it stands", "[speed]") {
  Stretch s = stretch_of({200.0, 200.1, 200.0, 199.9});
  CHECK(mark_unreachable(s, quiet()) == 1);
  CHECK(outliers(s) == std::vector<bool>{false, true, false, false});
}
