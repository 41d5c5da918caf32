#include "bothways/pair/two_way.hpp"

#include "bothways/pair/curve.hpp"
#include "lib/pair/made_up.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const std::string usual = "0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph";
constexpr double top_mps = 23.4;

Run scooter_run(double grade, double wind_mps, const std::string& splits = usual, double sd_s = 0.0,
                double first_mps = 2.0, double step_mps = 1.0) {
  return run_of(Start([=](double, double v) { return scooter_mps2(v, grade, wind_mps); }, top_mps), splits,
                sd_s, first_mps, step_mps);
}

const TwoWay& find(const TwoWayResult& result, const std::string& name) {
  for (const TwoWay& split : result.splits) {
    if (split.spec.name == name) {
      return split;
    }
  }
  throw std::logic_error("no such split: " + name);
}

/// Constant acceleration from rest, all in closed form.
Run constant_run(double a_mps2, double first_mps, double step_mps, double sd_s = 0.0) {
  Run run;
  const double foot_s = std::sqrt(2.0 * rollout_m / a_mps2);
  const double v0 = a_mps2 * foot_s;
  std::vector<double> speeds{v0};
  for (double v = first_mps; v < 25.0; v += step_mps) {
    speeds.push_back(v);
  }
  for (const double mark : {8.0, 12.0, 20.0}) {
    speeds.push_back(mark);
  }
  std::sort(speeds.begin(), speeds.end());
  for (const double v : speeds) {
    if (v >= v0 && (run.edges.empty() || v > run.edges.back().v_mps)) {
      run.edges.push_back({v, (v - v0) / a_mps2, sd_s, v * v / (2.0 * a_mps2)});
    }
  }
  run.splits = {split_of("0-20 m/s", (20.0 - v0) / a_mps2, foot_s, sd_s),
                split_of("8-20 m/s", 12.0 / a_mps2, 0.0, sd_s), split_of("8-12 m/s", 4.0 / a_mps2, 0.0, sd_s),
                split_of("50 m", std::sqrt(100.0 / a_mps2) - foot_s, foot_s, sd_s),
                split_of("20-50 m", std::sqrt(100.0 / a_mps2) - std::sqrt(40.0 / a_mps2), 0.0, sd_s)};
  return run;
}

}  // namespace

TEST_CASE("a pair of constant acceleration on a slope gives the flat time exactly", "[pair]") {
  constexpr double a = 2.5;
  for (const double slope : {0.02, 0.1, 0.3, 0.7}) {
    CAPTURE(slope);
    const TwoWayResult result = two_way(constant_run(a - slope, 3.0, 1.0), constant_run(a + slope, 3.0, 1.0));
    const double foot_s = std::sqrt(2.0 * rollout_m / a);
    for (const TwoWay& split : result.splits) {
      CAPTURE(split.spec.name);
      const double exact = split.spec.name == "0-20 m/s"   ? 20.0 / a - foot_s
                           : split.spec.name == "8-20 m/s" ? 12.0 / a
                           : split.spec.name == "8-12 m/s" ? 4.0 / a
                           : split.spec.name == "50 m"     ? std::sqrt(100.0 / a) - foot_s
                                                           : std::sqrt(100.0 / a) - std::sqrt(40.0 / a);
      CHECK_THAT(split.rollout.value, WithinRel(exact, 1e-12));
      if (split.spec.name == "0-20 m/s") {
        CHECK_THAT(split.movement.value, WithinRel(20.0 / a, 1e-12));
      }
      // The plain mean is too long by eps^2/(1 - eps^2) on rolling splits.
      if (split.spec.name == "8-20 m/s") {
        const double eps = slope / a;
        CHECK_THAT(split.plain_mean_s / exact - 1.0, WithinAbs(eps * eps / (1.0 - eps * eps), 1e-12));
      }
    }
  }
}

TEST_CASE("edges of the two runs need not line up", "[pair]") {
  const TwoWayResult even = two_way(constant_run(2.3, 3.0, 1.0), constant_run(2.7, 3.0, 1.0));
  const TwoWayResult odd = two_way(constant_run(2.3, 2.7, 1.1), constant_run(2.7, 3.3, 0.9));
  for (std::size_t i = 0; i < even.splits.size(); ++i) {
    CHECK_THAT(odd.splits[i].rollout.value, WithinRel(even.splits[i].rollout.value, 1e-12));
  }
  const TwoWayResult scooter = two_way(scooter_run(0.02, 0.0), scooter_run(-0.02, 0.0));
  const TwoWayResult shifted_edges =
      two_way(scooter_run(0.02, 0.0, usual, 0.0, 2.3, 1.1), scooter_run(-0.02, 0.0, usual, 0.0, 2.9, 0.9));
  for (std::size_t i = 0; i < scooter.splits.size(); ++i) {
    CAPTURE(scooter.splits[i].spec.name);
    // Interpolation through the kink where power takes over from force.
    CHECK_THAT(shifted_edges.splits[i].rollout.value, WithinAbs(scooter.splits[i].rollout.value, 2e-4));
  }
}

TEST_CASE("the harmonic mean of a pair is its mean shortened by the difference", "[pair]") {
  // H = A (1 - (D / 2A)^2): what a pair without edges falls back on; arithmetic of [GTR15] pairs.
  Run a;
  Run b;
  for (const auto& [ta, tb] : {std::pair{10.0, 12.0}, {10.2, 11.8}, {9.8, 12.3}, {10.4, 11.7}}) {
    a.splits = {split_of("30-50 mph", ta, 0.0, 0.1)};
    b.splits = {split_of("30-50 mph", tb, 0.0, 0.1)};
    const TwoWay split = two_way(a, b).splits.front();
    const double mean = (ta + tb) / 2.0;
    const double half = (ta - tb) / 2.0 / mean;
    CHECK_THAT(split.rollout.value, WithinRel(mean * (1.0 - half * half), 1e-14));
    CHECK_THAT(split.rollout.value, WithinRel(2.0 / (1.0 / ta + 1.0 / tb), 1e-14));
    CHECK_THAT(split.apart, WithinRel(std::abs(ta - tb) / mean, 1e-14));
  }
}

TEST_CASE("the pointwise mean agrees with the table of the scooter", "[pair]") {
  // Level times and bias in per cent of them: arithmetic, harmonic, pointwise mean of a pair of starts from
  // rest; own calculation (no outside source), made independently of this code.
  const Run level = scooter_run(0.0, 0.0);
  const std::array<double, 3> t0{4.6919, 6.7477, 10.1536};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK_THAT(level.splits[i].movement.value, WithinAbs(t0[i], 1e-4));
  }
  struct Case {
    double grade;
    double wind_mps;
    std::array<double, 3> plain;
    std::array<double, 3> harmonic;
    std::array<double, 3> pointwise;
  };
  for (const Case& c :
       {Case{0.005, 0, {0.027, 0.033, 0.068}, {0.000, 0.001, 0.009}, {0, 0, 0}},
        Case{0.01, 0, {0.107, 0.133, 0.274}, {0.000, 0.003, 0.038}, {0, 0, 0}},
        Case{0.02, 0, {0.429, 0.536, 1.110}, {-0.001, 0.013, 0.153}, {-0.001, -0.001, -0.001}},
        Case{0, 1, {0.062, 0.083, 0.187}, {0.056, 0.067, 0.123}, {0.054, 0.060, 0.081}},
        Case{0, 3, {0.535, 0.737, 1.730}, {0.480, 0.592, 1.118}, {0.463, 0.525, 0.724}},
        Case{0, 5, {1.441, 2.045, 5.148}, {1.276, 1.615, 3.221}, {1.232, 1.427, 2.013}},
        Case{0.01, 3, {0.802, 1.185, 3.114}, {0.483, 0.626, 1.426}, {0.463, 0.524, 0.724}},
        Case{0.01, -3, {0.487, 0.566, 0.985}, {0.477, 0.566, 0.906}, {0.463, 0.524, 0.724}}}) {
    CAPTURE(c.grade, c.wind_mps);
    const Run up = scooter_run(c.grade, c.wind_mps);
    const Run down = scooter_run(-c.grade, -c.wind_mps);
    const TwoWayResult result = two_way(up, down);
    for (std::size_t i = 0; i < 3; ++i) {
      CAPTURE(result.splits[i].spec.name);
      const double a = up.splits[i].movement.value;
      const double b = down.splits[i].movement.value;
      const auto bias = [&](double t) { return 100.0 * (t / level.splits[i].movement.value - 1.0); };
      CHECK_THAT(bias((a + b) / 2.0), WithinAbs(c.plain[i], 0.01));
      CHECK_THAT(bias(2.0 * a * b / (a + b)), WithinAbs(c.harmonic[i], 0.01));
      CHECK_THAT(bias(result.splits[i].movement.value), WithinAbs(c.pointwise[i], 0.01));
    }
  }
}

TEST_CASE("the first foot is averaged to within a millisecond on 2 % of slope", "[pair]") {
  const std::string splits = usual + ", 60 ft, 100 m";
  const Run level = scooter_run(0.0, 0.0, splits);
  for (const double grade : {0.01, 0.02}) {
    const TwoWayResult result = two_way(scooter_run(grade, 0.0, splits), scooter_run(-grade, 0.0, splits));
    for (std::size_t i = 0; i < level.splits.size(); ++i) {
      CAPTURE(grade, level.splits[i].spec.name);
      CHECK_THAT(result.splits[i].rollout.value, WithinAbs(level.splits[i].rollout.value, 0.001));
      CHECK_THAT(result.splits[i].movement.value, WithinAbs(level.splits[i].movement.value, 0.001));
    }
  }
}

TEST_CASE("a clutch that creeps and then snatches leaves the two-way result as good", "[pair]") {
  const std::string splits = usual + ", 60 ft";
  const auto creeping = [](double grade) {
    // The drive grows from a tenth to the whole between 0.2 and 1.5 m/s, from 0.1 % of it at rest.
    return [grade](double, double v) {
      const double engaged = std::clamp(0.25 + 0.75 * (v - 0.2) / 1.3, 0.25, 1.0);
      return scooter_mps2(v, grade) - (1.0 - engaged) * 650.0 / 210.0;
    };
  };
  const Run level = run_of(Start(creeping(0.0), top_mps), splits);
  const TwoWayResult result = two_way(run_of(Start(creeping(0.01), top_mps), splits),
                                      run_of(Start(creeping(-0.01), top_mps), splits));
  for (std::size_t i = 0; i < level.splits.size(); ++i) {
    CAPTURE(level.splits[i].spec.name);
    CHECK_THAT(result.splits[i].rollout.value, WithinAbs(level.splits[i].rollout.value, 0.003));
  }
}

TEST_CASE("a dip in the road cancels over the same stretch, and does not where runs go apart", "[pair]") {
  const Run level = scooter_run(0.0, 0.0);
  const double stretch_m = 133.7;  // what 0-50 mph takes
  const auto dip = [](double at_m, double way) {
    return [=](double s, double v) { return scooter_mps2(v, way * 0.01 * (at_m + way * s) / 100.0); };
  };
  const Run out = run_of(Start(dip(0.0, 1.0), top_mps), usual);
  const Run back = run_of(Start(dip(stretch_m, -1.0), top_mps), usual);
  const Run away = run_of(Start(dip(0.0, -1.0), top_mps), usual);
  const auto bias = [&](const TwoWayResult& result, std::size_t i) {
    return 100.0 * (result.splits[i].movement.value / level.splits[i].movement.value - 1.0);
  };
  const TwoWayResult same = two_way(out, back);
  CHECK_THAT(bias(same, 2), WithinAbs(-0.13, 0.05));
  CHECK_THAT(bias(two_way(out, away), 2), WithinAbs(3.42, 0.05));
  CHECK_THAT(bias(two_way(out, away), 0), WithinAbs(0.36, 0.05));
}

TEST_CASE("two equal runs give their own time, and half the root of two of its sd", "[pair]") {
  const Run run = scooter_run(0.0, 0.0, usual + ", 60 ft", 0.02);
  const TwoWayResult result = two_way(run, run);
  REQUIRE(result.splits.size() == run.splits.size());
  for (std::size_t i = 0; i < run.splits.size(); ++i) {
    CAPTURE(run.splits[i].spec.name);
    CHECK_THAT(result.splits[i].rollout.value, WithinAbs(run.splits[i].rollout.value, 1e-12));
    CHECK_THAT(result.splits[i].movement.value, WithinAbs(run.splits[i].movement.value, 1e-12));
    CHECK_THAT(result.splits[i].rollout.sd, WithinAbs(0.02 / std::sqrt(2.0), 1e-12));
  }
  CHECK(result.notes.empty());
}

TEST_CASE("the uncertainty of a pair is that of its runs, more where they are unlike", "[pair]") {
  const Run up = scooter_run(0.02, 0.0, usual, 0.03);
  const Run down = scooter_run(-0.02, 0.0, usual, 0.01);
  for (const TwoWay& split : two_way(up, down).splits) {
    CAPTURE(split.spec.name);
    CHECK(split.rollout.sd > 0.4 * std::hypot(0.03, 0.01));
    CHECK(split.rollout.sd < 0.7 * std::hypot(0.03, 0.01));
    CHECK_THAT(split.rollout.hi95 - split.rollout.value, WithinRel(1.96 * split.rollout.sd, 1e-4));
  }
}

TEST_CASE("without edges the sd is that of the harmonic mean of the two times", "[pair]") {
  Run slow = constant_run(2.0, 2.0, 1.0, 0.03);
  Run quick = constant_run(3.0, 2.0, 1.0, 0.0);
  slow.edges.clear();
  quick.edges.clear();
  // 6 s and 4 s: d(2ab / (a + b)) / da = 2 b^2 / (a + b)^2
  const TwoWay split = find(two_way(slow, quick), "8-20 m/s");
  CHECK_THAT(split.rollout.value, WithinRel(4.8, 1e-12));
  CHECK_THAT(split.rollout.sd, WithinRel(2.0 * 16.0 / 100.0 * 0.03, 1e-9));
}

TEST_CASE("no band is shorter than forty times the noise of its ends", "[pair]") {
  constexpr double sd_s = 0.02;
  const auto course =
      mean_course(scooter_run(0.02, 0.0, usual, sd_s), scooter_run(-0.02, 0.0, usual, sd_s), {});
  REQUIRE(course);
  REQUIRE(course->mean.v_mps.size() > 5);
  for (const Course& run : course->run) {
    for (std::size_t k = 1; k < run.t_s.size(); ++k) {
      CHECK(run.t_s[k] - run.t_s[k - 1] >= 40.0 * sd_s);
      CHECK(run.t_s[k] - run.t_s[k - 1] < 100.0 * sd_s);  // nor much longer: that would keep some slope
    }
  }
}

TEST_CASE("two-way splits add up, however wide the noise makes the bands", "[pair]") {
  for (const double sd_s : {0.0, 0.02, 0.2}) {
    CAPTURE(sd_s);
    const TwoWayResult result =
        two_way(scooter_run(0.02, 0.0, usual, sd_s), scooter_run(-0.02, 0.0, usual, sd_s));
    CHECK_THAT(find(result, "0-30 mph").rollout.value + find(result, "30-50 mph").rollout.value,
               WithinAbs(find(result, "0-50 mph").rollout.value, 1e-12));
    // Bands as wide as the marks still leave most of the slope out: the plain mean is 0.11 s too long.
    CHECK_THAT(
        find(result, "0-50 mph").rollout.value,
        WithinAbs(find(two_way(scooter_run(0.0, 0.0), scooter_run(0.0, 0.0)), "0-50 mph").rollout.value,
                  0.01));
  }
}

TEST_CASE("exchanging the two runs of a pair changes no bit", "[pair]") {
  const std::string splits = usual + ", 60 ft, 50-100 m";
  const Run up = scooter_run(0.013, 1.7, splits, 0.03, 2.3, 1.1);
  const Run down = scooter_run(-0.013, -1.7, splits, 0.01);
  const TwoWayResult one = two_way(up, down);
  const TwoWayResult other = two_way(down, up);
  for (std::size_t i = 0; i < one.splits.size(); ++i) {
    CHECK(one.splits[i].rollout.value == other.splits[i].rollout.value);
    CHECK(one.splits[i].rollout.sd == other.splits[i].rollout.sd);
    CHECK(one.splits[i].movement.value == other.splits[i].movement.value);
    CHECK(one.splits[i].apart == other.splits[i].apart);
  }
}

TEST_CASE("partners more than 3 % apart get a note and stay", "[pair]") {
  const TwoWayResult sloping = two_way(scooter_run(0.01, 0.0), scooter_run(-0.01, 0.0));
  REQUIRE(sloping.notes.size() == 1);
  CHECK(sloping.notes.front().code == "partners-apart");
  CHECK(sloping.notes.front().text.find("slope, wind or the starts") != std::string::npos);
  CHECK(sloping.splits.size() == 4);
  const TwoWayResult vague = two_way(scooter_run(0.01, 0.0, usual, 0.5), scooter_run(-0.01, 0.0, usual, 0.5));
  REQUIRE(vague.notes.size() == 1);
  CHECK(vague.notes.front().text.find("receiver's noise") != std::string::npos);
  CHECK_THAT(find(sloping, "0-30 mph").apart, WithinAbs(0.065, 0.005));
  CHECK(two_way(scooter_run(0.001, 0.0), scooter_run(-0.001, 0.0)).notes.empty());
}

TEST_CASE("a split that one run does not reach is absent from the pair", "[pair]") {
  const TwoWayResult result = two_way(scooter_run(0.0, 0.0), scooter_run(0.0, 0.0, "0-30 mph"));
  REQUIRE(result.splits.size() == 1);
  CHECK(result.splits.front().spec.name == "0-30 mph");
}

TEST_CASE("damaged edges make no silly figure", "[pair]") {
  Run run = scooter_run(0.01, 0.0, usual + ", 60 ft, 1/4 mi", 0.02);
  Run broken = scooter_run(-0.01, 0.0, usual + ", 60 ft, 1/4 mi", 0.02);
  std::swap(broken.edges[3], broken.edges[9]);
  broken.edges[5].t_s = std::nan("");
  broken.edges[7].v_mps = broken.edges[6].v_mps;
  for (const auto& edges :
       {broken.edges, std::vector<SpeedEdge>{}, std::vector<SpeedEdge>{{1.3, 0, 0.1, 0.3}}}) {
    broken.edges = edges;
    for (const TwoWay& split : two_way(run, broken).splits) {
      CAPTURE(split.spec.name, edges.size());
      CHECK_THAT(split.rollout.value / split.plain_mean_s, WithinAbs(1.0, 0.02));
      CHECK(std::isfinite(split.rollout.sd + split.movement.value + split.movement.sd));
    }
  }
}
