#include "bothways/pair/judge.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <vector>

using namespace bothways;

TEST_CASE("Holm's steps stop at the first that fails", "[pair]") {
  CHECK(holm(std::array{0.01, 0.04, 0.03, 0.005}, 0.05) == std::vector<bool>{true, false, false, true});
  CHECK(holm(std::array{0.02, 0.02, 0.02}, 0.05) == std::vector<bool>{false, false, false});
  CHECK(holm(std::array{0.016, 0.024, 0.05}, 0.05) == std::vector<bool>{true, true, true});
  CHECK(holm({}, 0.05).empty());
}

TEST_CASE("the main look needs no correction, and opens the gate for the others", "[pair]") {
  CHECK(told(std::array{0.04, 0.02, 0.04}, 0, 0.05) == std::vector<bool>{true, true, true});
  CHECK(told(std::array{0.06, 0.02, 0.04}, 0, 0.05) == std::vector<bool>{false, false, false});
  CHECK(told(std::array{0.06, 0.004, 0.04}, 0, 0.05) == std::vector<bool>{false, true, false});
  CHECK(told(std::array{0.02, 0.04}, 1, 0.05) == std::vector<bool>{true, true});
}
