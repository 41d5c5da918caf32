// Runs every fixtures/*/case.txt through the library: read, find, time, pair, compare.

#include "bothways/core/units.hpp"
#include "bothways/log/read.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/run/ride.hpp"
#include "support/cases/case.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

using namespace bothways;
using namespace bothways::sim;

namespace {

const std::filesystem::path fixtures = std::filesystem::path(BOTHWAYS_SOURCE_DIR) / "fixtures";

void check_near(const Estimate& found, double true_s, const Within& within) {
  INFO("found " << found.value << " s, sd " << found.sd << ", 95 % " << found.lo95 << ".." << found.hi95
                << "; true " << true_s);
  CHECK(std::abs(found.value - true_s) <= within.seconds);
  if (within.sds > 0.0) {
    CHECK(std::abs(found.value - true_s) <= within.sds * found.sd);
  }
  CHECK(found.lo95 <= found.value);
  CHECK(found.value <= found.hi95);
}

void check_log(const CaseLog& expected, const Runs& runs) {
  INFO(expected.file);
  REQUIRE(runs.accepted.size() == static_cast<std::size_t>(expected.runs));
  const auto run = [&](int n) -> const Run& { return runs.accepted.at(static_cast<std::size_t>(n - 1)); };
  for (const CaseInstant& launch : expected.launches) {
    INFO("first movement of run " << launch.run << ": " << format_iso8601(run(launch.run).movement));
    CHECK(std::abs(seconds_between(launch.time, run(launch.run).movement)) <= launch.within.seconds);
  }
  for (const CaseInstant& clock : expected.clocks) {
    INFO("clock start of run " << clock.run << ": " << format_iso8601(run(clock.run).clock_start));
    CHECK(std::abs(seconds_between(clock.time, run(clock.run).clock_start)) <= clock.within.seconds);
  }
  for (const CaseSplit& split : expected.splits) {
    INFO("run " << split.run << ", " << split.name);
    const auto& all = run(split.run).splits;
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Split& s) { return s.spec.name == split.name; });
    REQUIRE(found != all.end());
    check_near(found->rollout, split.time_s, split.within);
  }
  for (const CaseRejected& start : expected.rejected) {
    // A rolling start has no sharp beginning: five seconds.
    INFO("start left out at " << format_iso8601(start.time) << ", " << start.codes.front());
    const bool listed = std::any_of(runs.rejected.begin(), runs.rejected.end(), [&](const Rejected& r) {
      return std::abs(seconds_between(start.time, r.time)) < 5.0 &&
             std::find(start.codes.begin(), start.codes.end(), r.code) != start.codes.end();
    });
    CHECK(listed);
  }
}

/// Rides of the case with ids made unique; run n of ride k has id 1000 k + n.
std::vector<Ride> rides_of(const Case& c) {
  std::vector<Ride> rides;
  for (const CaseLog& log : c.logs) {
    Ride ride = analyse(read_log((c.folder / log.file).string()), {.splits = parse_splits(c.splits)});
    for (std::size_t n = 0; n < ride.runs.accepted.size(); ++n) {
      ride.runs.accepted[n].id = static_cast<int>(1000 * rides.size() + n + 1);
    }
    rides.push_back(std::move(ride));
  }
  return rides;
}

int id_of(const Case& c, const std::string& file, int run) {
  for (std::size_t k = 0; k < c.logs.size(); ++k) {
    if (c.logs[k].file == file) {
      return static_cast<int>(1000 * k) + run;
    }
  }
  return 0;
}

void check_pairs(const Case& c, const std::vector<Ride>& rides) {
  const Pairs pairs = pair_runs(rides);
  if (c.pairs) {
    CHECK(pairs.made.size() == static_cast<std::size_t>(*c.pairs));
  }
  for (const CaseTwoWay& expected : c.two_ways) {
    INFO("both ways: run " << expected.run << " and " << expected.other_run << ", " << expected.name);
    const int one = id_of(c, expected.file, expected.run);
    const int other = id_of(c, expected.other_file, expected.other_run);
    const auto pair = std::find_if(pairs.made.begin(), pairs.made.end(), [&](const Pair& p) {
      return (p.first_run == one && p.second_run == other) || (p.first_run == other && p.second_run == one);
    });
    REQUIRE(pair != pairs.made.end());
    const auto split = std::find_if(pair->splits.begin(), pair->splits.end(),
                                    [&](const TwoWay& t) { return t.spec.name == expected.name; });
    REQUIRE(split != pair->splits.end());
    check_near(split->rollout, expected.time_s, expected.within);
  }
}

/// Mean over the pairs of one side, s.
double side_s(const Case& c, const std::vector<Ride>& rides, const std::string& side,
              const std::string& name) {
  std::vector<Ride> chosen;
  for (std::size_t k = 0; k < rides.size(); ++k) {
    if (c.logs[k].file.rfind(side + "/", 0) == 0) {
      chosen.push_back(rides[k]);
    }
  }
  const auto rows = overall(chosen, pair_runs(chosen), parse_splits(name));
  REQUIRE(rows.size() == 1);
  return rows.front().rollout.value;
}

}  // namespace

TEST_CASE("every case of the fixtures comes out as it is known to be", "[cases]") {
  const auto paths = find_cases(fixtures);
  REQUIRE(paths.size() >= 8);
  for (const auto& path : paths) {
    const Case c = read_case(path);
    DYNAMIC_SECTION(c.folder.filename().string()) {
      const std::vector<Ride> rides = rides_of(c);
      for (std::size_t k = 0; k < rides.size(); ++k) {
        check_log(c.logs[k], rides[k].runs);
      }
      check_pairs(c, rides);
      for (const CaseChange& change : c.changes) {
        INFO("change of " << change.name);
        const double found = side_s(c, rides, "after", change.name) - side_s(c, rides, "before", change.name);
        CHECK(std::abs(found - change.difference_s) <= change.within.seconds);
      }
    }
  }
}

TEST_CASE("on a slope the two-way result holds the level road's time and the plain mean does not",
          "[cases]") {
  const Case c = read_case(fixtures / "slope-2-percent" / "case.txt");
  const std::vector<Ride> rides = rides_of(c);
  const Pairs pairs = pair_runs(rides);
  const std::string name = "0-50 mph";  // 2 % of slope makes the plain mean 1.1 % too long there
  const auto level =
      std::find_if(c.two_ways.begin(), c.two_ways.end(), [&](const CaseTwoWay& t) { return t.name == name; });
  REQUIRE(level != c.two_ways.end());
  const auto rows = overall(rides, pairs, parse_splits(name));
  REQUIRE(rows.size() == 1);
  const Estimate& both = rows.front().rollout;
  double plain_s = 0.0;
  for (const Pair& pair : pairs.made) {
    for (const TwoWay& split : pair.splits) {
      plain_s += split.spec.name == name ? split.plain_mean_s / static_cast<double>(pairs.made.size()) : 0.0;
    }
  }
  INFO("level " << level->time_s << " s, both ways " << both.lo95 << ".." << both.hi95 << ", plain "
                << plain_s);
  CHECK(both.lo95 <= level->time_s);
  CHECK(level->time_s <= both.hi95);
  CHECK(std::abs(plain_s - level->time_s) > std::abs(both.value - level->time_s));
}

TEST_CASE("every fixture log of a case is there and every case has its birth certificate", "[simulate]") {
  for (const auto& path : find_cases(fixtures)) {
    const Case c = read_case(path);
    INFO(path);
    CHECK(!c.title.empty());
    CHECK((c.origin.rfind("simulated", 0) == 0 || c.origin.rfind("real", 0) == 0));
    for (const CaseLog& log : c.logs) {
      CHECK(std::filesystem::exists(c.folder / log.file));
      CHECK(log.runs == static_cast<int>(log.clocks.size()));
    }
  }
}

TEST_CASE("a case with a word that nobody knows is refused with its line", "[simulate]") {
  const auto path = std::filesystem::temp_directory_path() / "bothways_case_test.txt";
  std::ofstream(path) << "origin    simulated\nlicence   none\nfile      a.csv\nrun       3\n";
  CHECK_THROWS_WITH(read_case(path), Catch::Contains(":4: 'run' is no word of a case"));
  std::filesystem::remove(path);
}
