#include "bothways/pair/compare.hpp"

#include "lib/pair/sides.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>
#include <string>
#include <tuple>
#include <vector>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Difference one_difference(const std::vector<double>& before, const std::vector<double>& after,
                          double sd_s = 0.0) {
  return compare_two(side_of("before", before, sd_s), side_of("after", after, sd_s)).differences.at(0);
}

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the words of a comparison are those of a rider", "[pair]") {
  const Difference told = one_difference({5.30, 5.34, 5.26, 5.33}, {5.07, 5.04, 5.11, 5.05});
  CHECK(told.verdict == Verdict::quicker);
  CHECK(told.text == "0-30 mph: quicker by 0.24 s (0.14 to 0.34)");
  CHECK(told.more_pairs == 0);
  const Difference open = one_difference({5.3, 5.6, 5.1, 5.45}, {5.2, 5.55, 4.95, 5.4});
  CHECK(open.verdict == Verdict::cannot_tell);
  CHECK(open.text ==
        "0-30 mph: cannot tell; the difference is between -0.4 and +0.2 s; about 4 more pairs a side would "
        "show 0.3 s");
  CHECK(one_difference({5.07, 5.04, 5.11, 5.05}, {5.30, 5.34, 5.26, 5.33}).text ==
        "0-30 mph: slower by 0.24 s (0.14 to 0.34)");
  CHECK(std::string(to_string(Verdict::cannot_tell)) == "cannot-tell");
}

TEST_CASE("the pairs that a comparison asks for would show what it says", "[pair]") {
  const Difference open = one_difference({5.3, 5.6, 5.1, 5.45}, {5.2, 5.55, 4.95, 5.4});
  CHECK(open.more.power >= 0.8);
  CHECK(open.more.pairs == 4 + open.more_pairs);
  CHECK_THAT(open.more.difference_s, WithinAbs((open.difference.hi95 - open.difference.lo95) / 2.0, 1e-12));
}

TEST_CASE("a single pair takes the usual scatter and says so", "[pair]") {
  const Difference one = one_difference({5.30}, {5.10}, 0.01);
  CHECK(one.allowance_s > 0.05);
  CHECK(one.difference.sd > one.allowance_s);
  CHECK(has_note(one.notes, "single-pair"));
  CHECK(contains(one.text, "one pair a side"));
  // What the other side shows takes its place.
  const Difference rough = one_difference({5.30}, {5.0, 5.5, 4.8, 5.6});
  CHECK(rough.allowance_s > 0.3);
  CHECK(contains(rough.text, "one pair before"));
  CHECK(one_difference({5.3, 5.2}, {5.1, 5.2}).allowance_s == 0.0);
}

TEST_CASE("the basis of a plan is what the pairs of a side show", "[pair]") {
  const SplitSpec spec = one_split.front();
  const PlanBasis plain = plan_basis(side_of("before", {5.0, 5.2, 5.1}), spec);
  CHECK(plain.pairs == 3);
  CHECK_FALSE(plain.assumed);
  CHECK(scatter_s(plain) > 0.07);
  CHECK(scatter_s(plain) < 0.2);
  CHECK(scatter_s(plan_basis(side_of("before", {5.0, 5.0, 5.0}, 0.03), spec)) >= 0.03);
  CHECK(plan_basis(side_of("before", {5.0}, 0.03), spec).assumed);
  CHECK(plan_basis(side_of("before", {5.0}), parse_splits("0-50 mph").front()).pairs == 0);
}

TEST_CASE("a change between set-ups that the conditions name is no scatter", "[pair]") {
  Side side = side_of("all", {5.00, 5.10});
  const Side later = side_of("all", {4.50, 4.60});
  side.rides.push_back(later.rides[0]);
  for (Pair pair : later.pairs.made) {
    pair.ride = pair.other_ride = 1;
    side.pairs.made.push_back(pair);
  }
  const PlanBasis mixed = plan_basis(side, one_split.front());
  CHECK(mixed.setups == 1);
  CHECK(scatter_s(mixed) > 0.2);
  side.rides[0].conditions = Conditions{};
  side.rides[0].conditions->setup = "stock";
  side.rides[1].conditions = Conditions{};
  side.rides[1].conditions->setup = "soft spring";
  const PlanBasis apart = plan_basis(side, one_split.front());
  CHECK(apart.setups == 2);
  CHECK(apart.pairs == 4);
  CHECK_FALSE(apart.assumed);
  CHECK(scatter_s(apart) < 0.15);
  side.pairs.made = {side.pairs.made.front(), side.pairs.made.back()};
  CHECK(plan_basis(side, one_split.front()).assumed);  // one pair of each shows none
}

TEST_CASE("the measurement part of a comparison is never lost", "[pair]") {
  const Difference quiet = one_difference({5.3, 5.3, 5.3}, {5.1, 5.1, 5.1}, 0.06);
  // 0.85 of the sd is shared by the pairs of a side, three quarters of its variance by all logs of it, and
  // 0.85 of that by both sides, so that it drops out.
  const double measured =
      0.06 * std::sqrt(2.0 * ((1.0 - 0.85 * 0.85) / 3.0 + 0.85 * 0.85 * (1.0 - 0.75 * 0.85)));
  CHECK(std::hypot(quiet.budget.receiver, quiet.budget.launch) > 0.95 * measured);
  CHECK(quiet.difference.sd > measured);
  CHECK(quiet.difference.hi95 - quiet.difference.value > 1.96 * measured);
}

TEST_CASE("exchanging the sides flips the sign and nothing else", "[pair]") {
  std::mt19937 random(8);
  std::normal_distribution<double> normal;
  for (int trial = 0; trial < 30; ++trial) {
    std::vector<Given> a(1 + random() % 5);
    std::vector<Given> b(1 + random() % 5);
    for (std::vector<Given>* side : {&a, &b}) {
      for (Given& one : *side) {
        one = {5.0 + 0.2 * normal(random), 0.02,
               24.0 * static_cast<double>(random() % 2) + 0.01 * normal(random)};
      }
    }
    const Side one = side_of("one", "0-30 mph", a);
    const Side other = side_of("other", "0-30 mph", b);
    const Difference forth = compare_two(one, other).differences.at(0);
    const Difference back = compare_two(other, one).differences.at(0);
    CAPTURE(trial);
    CHECK_THAT(forth.difference.value, WithinAbs(-back.difference.value, 1e-9));
    CHECK_THAT(forth.difference.sd, WithinAbs(back.difference.sd, 1e-9));
    CHECK_THAT(forth.difference.lo95, WithinAbs(-back.difference.hi95, 1e-7));
    CHECK_THAT(forth.difference.hi95, WithinAbs(-back.difference.lo95, 1e-7));
    CHECK_THAT(forth.p_value, WithinAbs(back.p_value, 1e-9));
    CHECK_THAT(forth.before.value, WithinAbs(back.after.value, 1e-9));
    CHECK(forth.pairs_before == back.pairs_after);
    CHECK_THAT(forth.scatter_s, WithinAbs(back.scatter_s, 1e-9));
    CHECK(std::abs(forth.more_pairs - back.more_pairs) <= 2);  // rounding may tip a power of just 0.8
    const auto mirrored = [](Verdict v) {
      return v == Verdict::quicker ? Verdict::slower : v == Verdict::slower ? Verdict::quicker : v;
    };
    CHECK(forth.verdict == mirrored(back.verdict));
  }
}

TEST_CASE("the order of files within a side changes nothing", "[pair]") {
  const Run run = run_of(Start([](double, double v) { return scooter_mps2(v); }, 18.0), "0-30 mph", 0.01);
  const auto file = [&](int id, double minute, double stretch) {
    Run out = run;
    out.splits[0].rollout.value *= stretch;
    return ride_of({placed(out, id, 60.0 * minute, 0.0, true),
                    placed(out, id + 1, 60.0 * minute + 200.0, run.length_m, false)});
  };
  const auto difference = [&](std::vector<Ride> before, std::vector<Ride> after) {
    Side a{.name = "before", .rides = std::move(before)};
    Side b{.name = "after", .rides = std::move(after)};
    a.pairs = pair_runs(a.rides);
    b.pairs = pair_runs(b.rides);
    return compare_two(a, b).differences.at(0);
  };
  const Ride a = file(1, 0, 1.0);
  const Ride b = file(3, 20, 1.01);
  const Ride c = file(5, 40, 0.98);
  const Ride d = file(7, 60, 0.97);
  const Difference one = difference({a, b}, {c, d});
  const Difference other = difference({b, a}, {d, c});
  CHECK(one.pairs_before == 2);
  CHECK_THAT(one.difference.value, WithinAbs(other.difference.value, 1e-9));
  CHECK_THAT(one.difference.lo95, WithinAbs(other.difference.lo95, 1e-7));
  CHECK_THAT(one.p_value, WithinAbs(other.p_value, 1e-9));
  CHECK(one.text == other.text);
}

TEST_CASE("a word is rarely said where nothing changed, however many splits are looked at",
          "[pair][trials]") {
  std::mt19937_64 random(20260506);
  std::normal_distribution<double> normal;
  const auto splits = parse_splits("0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph");
  constexpr int trials = 400;
  int main_said = 0;
  int any_said = 0;
  for (int trial = 0; trial < trials; ++trial) {
    std::vector<Side> sides{side_of("before", {5.0, 5.0, 5.0}), side_of("after", {5.0, 5.0, 5.0})};
    for (Side& side : sides) {
      for (Pair& pair : side.pairs.made) {
        pair.splits.clear();
        const double shared = normal(random);  // splits of one start go together in part
        for (const SplitSpec& spec : splits) {
          const double time_s = 5.0 + 0.05 * (shared + normal(random)) + 0.02 * normal(random);
          pair.splits.push_back(two_way_of(spec.name, time_s, 0.02));
        }
      }
    }
    const Comparison comparison = compare(sides, splits).front();
    const auto is_said = [](const Difference& row) { return row.verdict != Verdict::cannot_tell; };
    main_said += is_said(comparison.differences.front()) ? 1 : 0;
    any_said += std::any_of(comparison.differences.begin(), comparison.differences.end(), is_said) ? 1 : 0;
  }
  CAPTURE(main_said, any_said);
  CHECK(main_said <= 28);  // 7 of 100
  CHECK(any_said <= 28);
  CHECK(main_said > 0);
}

TEST_CASE("the main split is judged alone and the others together", "[pair]") {
  const auto splits = parse_splits("0-30 mph, 0-40 mph");
  Side before = side_of("before", {5.3, 5.2, 5.25, 5.28});
  Side after = side_of("after", {5.3, 5.21, 5.24, 5.27});
  const auto add = [](Side& side, const std::vector<double>& times) {
    for (std::size_t k = 0; k < times.size(); ++k) {
      side.pairs.made[k].splits.push_back(two_way_of("0-40 mph", times[k], 0.0));
    }
  };
  add(before, {7.30, 7.20, 7.25, 7.28});
  add(after, {7.16, 7.07, 7.11, 7.14});
  const Comparison first = compare_two(before, after, splits);
  REQUIRE(first.differences.size() == 2);
  CHECK(first.differences[0].main);
  CHECK(first.differences[1].p_value < 0.05);
  CHECK(first.differences[1].verdict == Verdict::cannot_tell);
  CHECK(has_note(first.differences[1].notes, "looked-at-together"));
  CHECK(contains(first.differences[1].text, "cannot tell; taken alone it would be quicker by"));
  // Asked for as the main split it decides.
  const Comparison other =
      compare(std::vector<Side>{before, after}, splits, {.main_split = "0-40 mph"}).front();
  CHECK(other.differences[1].main);
  CHECK(other.differences[1].verdict == Verdict::quicker);
  CHECK_THROWS_AS(compare(std::vector<Side>{before, after}, splits, {.main_split = "0-90 mph"}),
                  std::invalid_argument);
  CHECK_THROWS_AS(compare(std::vector<Side>{before}, splits), std::invalid_argument);
  CHECK_THROWS_AS(compare(std::vector<Side>{before, after}, {}), std::invalid_argument);
}

TEST_CASE("with several set-ups a chance difference of one is not told", "[pair]") {
  // p between 0.025 and 0.05: told if it is the only comparison, not if it is one of two.
  const Side white = side_of("white", {5.30, 5.20, 5.25, 5.28});
  const Side yellow = side_of("yellow", {5.19, 5.09, 5.14, 5.17});
  const Side red = side_of("red", {5.30, 5.20, 5.25, 5.27});
  const Difference alone = compare_two(white, yellow).differences.at(0);
  REQUIRE(alone.p_value > 0.025);
  REQUIRE(alone.p_value < 0.05);
  CHECK(alone.verdict == Verdict::quicker);
  const Difference of_two =
      compare(std::vector<Side>{white, yellow, red}, one_split).front().differences.at(0);
  CHECK(of_two.verdict == Verdict::cannot_tell);
  CHECK(has_note(of_two.notes, "looked-at-together"));
}

TEST_CASE("three springs are each compared with the first, by the clock asked for", "[pair]") {
  const std::vector<Side> sides{side_of("white", {5.3, 5.2, 5.25}), side_of("yellow", {5.1, 5.0, 5.05}),
                                side_of("red", {5.29, 5.19, 5.26})};
  const auto comparisons = compare(sides, one_split, {.clock = Clock::movement});
  REQUIRE(comparisons.size() == 2);
  CHECK(comparisons[0].before == "white");
  CHECK(comparisons[0].after == "yellow");
  CHECK(comparisons[0].differences[0].verdict == Verdict::quicker);
  CHECK_THAT(comparisons[0].differences[0].before.value, WithinAbs(5.75, 1e-12));
  CHECK(comparisons[1].differences[0].verdict == Verdict::cannot_tell);
  CHECK(comparisons[1].clock == Clock::movement);
}

namespace {

/// Sides whose every run has `doubt_s` of its time from a gear change at the mark.
Side geared_side(const std::string& name, const std::vector<double>& times_s, double doubt_s) {
  constexpr double other_s = 0.02;
  Side side = side_of(name, times_s, std::hypot(doubt_s, other_s) / std::sqrt(2.0));
  for (Run& run : side.rides[0].runs.accepted) {
    Split split{.spec = one_split.front(), .rollout = {}, .movement = {}};
    if (doubt_s > 0.0) {
      split.crossing_shared_s = {doubt_s, 0.0};
    }
    run.splits = {split};
  }
  return side;
}

}  // namespace

TEST_CASE("what a gear change at a mark leaves open is as wide over many pairs as in one run", "[pair]") {
  constexpr double doubt_s = 0.2;
  const std::vector<double> times{5.0, 5.0, 5.0, 5.0, 5.0, 5.0};
  const auto overall_of = [&](double doubt) {
    const Side side = geared_side("before", times, doubt);
    return overall(side.rides, side.pairs, one_split).at(0).rollout;
  };
  const double rest = overall_of(0.0).sd;
  const double whole = overall_of(doubt_s).sd;
  CHECK_THAT(whole, WithinRel(std::hypot(rest, doubt_s), 0.03));
}

TEST_CASE("two sides that change gear at a mark have most of what it leaves open in common", "[pair]") {
  constexpr double doubt_s = 0.2;
  const std::vector<double> times{5.0, 5.0, 5.0, 5.0, 5.0, 5.0};
  const auto sd_of = [&](double doubt) {
    return compare_two(geared_side("before", times, doubt), geared_side("after", times, doubt))
        .differences.at(0)
        .difference.sd;
  };
  // Three quarters of its variance is shared by all logs of a side, and 0.85 of that by both sides.
  const double left = doubt_s * std::sqrt(2.0 * (1.0 - 0.75 * 0.85));
  CHECK_THAT(sd_of(doubt_s), WithinRel(std::hypot(sd_of(0.0), left), 0.03));
}
