#include "bothways/core/parallel.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <stdexcept>
#include <string>
#include <vector>

using namespace bothways;

TEST_CASE("each number is worked on once, whatever the number of threads", "[core]") {
  for (const std::size_t count : {0U, 1U, 2U, 57U}) {
    for (const unsigned jobs : {0U, 1U, 3U, 64U}) {
      std::vector<std::atomic<int>> done(count);
      for_each_index(count, jobs, [&](std::size_t i) { ++done[i]; });
      for (const auto& times : done) {
        CHECK(times == 1);
      }
    }
  }
}

TEST_CASE("of several failures the one of the lowest number is thrown, when all threads have ended",
          "[core]") {
  for (const unsigned jobs : {1U, 2U, 16U}) {
    for (int round = 0; round < 20; ++round) {
      std::atomic<int> under_way{0};
      try {
        for_each_index(200, jobs, [&](std::size_t i) {
          ++under_way;
          const bool fails = i % 7 == 5;
          --under_way;
          if (fails) {
            throw std::runtime_error(std::to_string(i));
          }
        });
        FAIL("nothing was thrown");
      } catch (const std::runtime_error& error) {
        CHECK(std::string(error.what()) == "5");
      }
      CHECK(under_way == 0);
    }
  }
}
