#include "bothways/run/turns.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <stdexcept>
#include <vector>

using namespace bothways;

namespace {

Ride ridden(std::int64_t at_s, bool runs = true, bool dated = true, const char* path = "ride") {
  Ride ride{.path = path, .dated = dated};
  ride.first = {at_s * 1'000'000};
  ride.runs.accepted.resize(runs ? 1 : 0);
  return ride;
}

std::vector<int> turns_of(std::vector<Ride> rides, const std::vector<std::string>& setups) {
  number_turns(rides, setups);
  std::vector<int> turns;
  std::transform(rides.begin(), rides.end(), std::back_inserter(turns), [](const Ride& r) { return r.turn; });
  return turns;
}

}  // namespace

TEST_CASE("a turn ends where the set-up changes in order of time", "[run]") {
  CHECK(turns_of({ridden(0), ridden(100), ridden(200), ridden(300)}, {"a", "b", "b", "a"}) ==
        std::vector<int>{1, 2, 2, 3});
  CHECK(turns_of({ridden(300), ridden(0), ridden(200), ridden(100)}, {"a", "a", "b", "b"}) ==
        std::vector<int>{3, 1, 2, 2});
}

TEST_CASE("what has no run or no known set-up has no turn and parts none", "[run]") {
  CHECK(turns_of({ridden(0), ridden(100, false), ridden(200), ridden(300)}, {"a", "b", "", "a"}) ==
        std::vector<int>{1, 0, 0, 1});
}

TEST_CASE("without dates only the parts of one log have turns", "[run]") {
  CHECK(turns_of({ridden(0, true, false), ridden(100, true, false)}, {"a", "b"}) == std::vector<int>{1, 2});
  CHECK(turns_of({ridden(0, true, false), ridden(100, true, false, "other")}, {"a", "b"}) ==
        std::vector<int>{0, 0});
  std::vector<Ride> one{ridden(0)};
  CHECK_THROWS_AS(number_turns(one, {}), std::invalid_argument);
}
