#include "bothways/pair/match.hpp"

#include "lib/pair/made_up.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>
#include <random>
#include <set>
#include <stdexcept>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Run& sample_run() {
  static const Run run =
      run_of(Start([](double, double v) { return scooter_mps2(v); }, 18.0), "0-30 mph, 0-40 mph");
  return run;
}

double length_m() {
  return sample_run().length_m;
}

Run east(int id, double minute, double at_m = 0.0, double north_m = 0.0, double turned_deg = 0.0) {
  return placed(sample_run(), id, 60.0 * minute, at_m, true, north_m, turned_deg);
}

Run west(int id, double minute, double at_m = length_m(), double north_m = 0.0, double turned_deg = 0.0) {
  return placed(sample_run(), id, 60.0 * minute, at_m, false, north_m, turned_deg);
}

/// Pairs as sets of run ids.
std::set<std::set<int>> ids_of(const Pairs& pairs) {
  std::set<std::set<int>> ids;
  for (const Pair& pair : pairs.made) {
    ids.insert({pair.first_run, pair.second_run});
  }
  return ids;
}

std::vector<std::string> codes_of(const Pairs& pairs) {
  std::vector<std::string> codes;
  for (const Single& single : pairs.single) {
    codes.push_back(single.code);
  }
  return codes;
}

}  // namespace

TEST_CASE("out and back over the same stretch make a pair", "[pair]") {
  const Pairs pairs = pair_runs({ride_of({east(1, 0), west(2, 4)})});
  REQUIRE(pairs.made.size() == 1);
  const Pair& pair = pairs.made.front();
  CHECK(pair.id == 1);
  CHECK(pair.first_run == 1);
  CHECK(pair.second_run == 2);
  CHECK_THAT(pair.overlap, WithinAbs(1.0, 0.001));
  CHECK(pair.splits.size() == 2);
  CHECK(pairs.single.empty());
}

TEST_CASE("runs that start at one point and go apart are not paired", "[pair]") {
  const Pairs pairs = pair_runs({ride_of({east(1, 0), west(2, 4, 0.0)})});
  CHECK(pairs.made.empty());
  CHECK(codes_of(pairs) == std::vector<std::string>{"no-overlap", "no-overlap"});
}

TEST_CASE("the overlap decides at half of the shorter run", "[pair]") {
  CHECK(pair_runs({ride_of({east(1, 0), west(2, 4, 0.55 * length_m())})}).made.size() == 1);
  const Pairs pairs = pair_runs({ride_of({east(1, 0), west(2, 4, 0.445 * length_m())})});
  CHECK(pairs.made.empty());
  REQUIRE(pairs.single.size() == 2);
  CHECK(pairs.single.front().text.find("44 %") != std::string::npos);
  CHECK(pair_runs({ride_of({east(1, 0), west(2, 4, 0.45 * length_m())})}, {.overlap = 0.4}).made.size() == 1);
}

TEST_CASE(
    "starting back from where the way out came to a stop makes a pair that says how little was timed twice",
    "[pair]") {
  // Out: timed over 1 length, stopped after 1.8. Back: from there, the same way.
  Run out = east(1, 0);
  Run back = west(2, 4, 1.8 * length_m());
  out.stop = back.start;
  back.stop = out.start;
  const Pairs pairs = pair_runs({ride_of({out, back})});
  REQUIRE(pairs.made.size() == 1);
  CHECK_THAT(pairs.made.front().overlap, WithinAbs(0.2, 0.005));
  const auto& notes = pairs.made.front().notes;
  CHECK(
      std::any_of(notes.begin(), notes.end(), [](const Note& note) { return note.code == "part-overlap"; }));
  // Going apart from one point shares nothing, however far each went on.
  CHECK(pair_runs({ride_of({out, west(3, 4, 0.0)})}).made.empty());
}

TEST_CASE("each reason for staying alone has its code and a sentence", "[pair]") {
  CHECK(codes_of(pair_runs({ride_of({east(1, 0), east(2, 5)})})) ==
        std::vector<std::string>{"no-opposite", "no-opposite"});
  CHECK(codes_of(pair_runs({ride_of({east(1, 0), west(2, 5, length_m(), 70.0)})})) ==
        std::vector<std::string>{"other-place", "other-place"});
  CHECK(codes_of(pair_runs({ride_of({east(1, 0), west(2, 5, 5000.0)})})) ==
        std::vector<std::string>{"other-place", "other-place"});
  CHECK(codes_of(pair_runs({ride_of({east(1, 0), west(2, 5), east(3, 30)})})) ==
        std::vector<std::string>{"odd-one"});
  CHECK(codes_of(pair_runs({ride_of({east(1, 0), west(2, 13 * 60)})})) ==
        std::vector<std::string>{"no-opposite", "no-opposite"});
  Run lost = west(2, 5);
  lost.start.lat_deg = std::numeric_limits<double>::quiet_NaN();
  const Pairs pairs = pair_runs({ride_of({east(1, 0), lost})});
  CHECK(codes_of(pairs) == std::vector<std::string>{"no-opposite", "no-position"});
  for (const Single& single : pairs.single) {
    CHECK(single.text.size() > 20);
  }
}

TEST_CASE("headings pair within 25 degrees of opposite", "[pair]") {
  CHECK(pair_runs({ride_of({east(1, 0), west(2, 5, length_m(), 0.0, 20.0)})}).made.size() == 1);
  CHECK(codes_of(pair_runs({ride_of({east(1, 0), west(2, 5, length_m(), 0.0, 30.0)})})) ==
        std::vector<std::string>{"no-opposite", "no-opposite"});
}

TEST_CASE("runs pair with the nearest in time, once each", "[pair]") {
  // Out, out, back, back, out, back.
  const Pairs pairs =
      pair_runs({ride_of({east(1, 0), east(2, 10), west(3, 12), west(4, 20), east(5, 40), west(6, 41)})});
  CHECK(pairs.made.size() == 3);
  CHECK(ids_of(pairs).count({5, 6}) == 1);
  for (std::size_t k = 0; k < pairs.made.size(); ++k) {
    CHECK(pairs.made[k].id == static_cast<int>(k) + 1);
  }
}

TEST_CASE("runs of two logs of one day pair, unless a log has no date", "[pair]") {
  std::vector<Ride> rides{ride_of({east(1, 0)}, "out.gpx"), ride_of({west(2, 10)}, "back.gpx")};
  const Pairs pairs = pair_runs(rides);
  REQUIRE(pairs.made.size() == 1);
  CHECK(pairs.made.front().ride == 0);
  CHECK(pairs.made.front().other_ride == 1);
  rides[1].dated = false;
  CHECK(pair_runs(rides).made.empty());
}

TEST_CASE("the order of rides and runs changes nothing, and a mirrored day pairs alike", "[pair]") {
  std::mt19937 random(3);
  for (int trial = 0; trial < 40; ++trial) {
    std::vector<Run> runs;
    std::vector<Run> mirrored;
    const int n = 2 + static_cast<int>(random() % 8);
    for (int id = 1; id <= n; ++id) {
      const double minute = 5.0 * static_cast<double>(random() % 30);
      const double at_m = static_cast<double>(random() % 60);
      const double north_m = 10.0 * static_cast<double>(random() % 12);
      const bool is_east = random() % 2 == 0;
      runs.push_back(is_east ? east(id, minute, at_m, north_m) : west(id, minute, at_m, north_m));
      mirrored.push_back(is_east ? west(id, minute, -at_m, north_m) : east(id, minute, -at_m, north_m));
    }
    const Pairs straight = pair_runs({ride_of(runs)});
    std::set<int> used;
    for (const Pair& pair : straight.made) {
      CHECK(used.insert(pair.first_run).second);
      CHECK(used.insert(pair.second_run).second);
    }
    CHECK(2 * straight.made.size() + straight.single.size() == runs.size());
    CHECK(ids_of(pair_runs({ride_of(mirrored)})).size() == straight.made.size());

    std::shuffle(runs.begin(), runs.end(), random);
    const std::vector<Run> some(runs.begin(), runs.begin() + n / 2);
    const std::vector<Run> rest(runs.begin() + n / 2, runs.end());
    CAPTURE(trial, n);
    CHECK(ids_of(pair_runs({ride_of(some, "b"), ride_of(rest, "a")})) == ids_of(straight));
  }
}

TEST_CASE("pairing refuses options out of range", "[pair]") {
  CHECK_THROWS_AS(pair_runs({}, {.heading_tolerance_deg = 100.0}), std::invalid_argument);
  CHECK_THROWS_AS(pair_runs({}, {.overlap = 1.5}), std::invalid_argument);
  CHECK_THROWS_AS(pair_runs({}, {.apart_s = -1.0}), std::invalid_argument);
  CHECK(pair_runs({}).made.empty());
}

TEST_CASE("a folder of thousands of runs on one road pairs all of them", "[pair]") {
  std::vector<Run> runs;
  for (int id = 1; id <= 1200; ++id) {
    Run run = id % 2 == 1 ? east(id, 0.4 * id) : west(id, 0.4 * id);
    run.edges.clear();
    runs.push_back(run);
  }
  const Pairs pairs = pair_runs({ride_of(runs)});
  CHECK(pairs.made.size() == 600);
  for (const Pair& pair : pairs.made) {
    CHECK(pair.second_run == pair.first_run + 1);
  }
}

TEST_CASE("runs of set-ups that the conditions tell apart are no partners", "[pair]") {
  Ride out = ride_of({east(1, 0)});
  Ride back = ride_of({west(2, 4)});
  const auto pairs = [&](const char* first, const char* second) {
    out.conditions = Conditions{};
    out.conditions->setup = first;
    back.conditions = Conditions{};
    back.conditions->setup = second;
    return pair_runs({out, back}).made.size();
  };
  CHECK(pairs("", "") == 1);
  CHECK(pairs("stock", "stock") == 1);
  CHECK(pairs("stock", "") == 0);  // nobody knows that it was stock
  CHECK(pairs("stock", "soft spring") == 0);
}
