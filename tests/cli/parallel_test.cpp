#include "cli/parallel.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <atomic>
#include <sstream>
#include <vector>

using namespace bothways::cli;

TEST_CASE("each piece of work is done once, whatever the number of jobs", "[cli]") {
  for (const bool terminal : {false, true}) {
    for (const std::size_t count : {0U, 1U, 2U, 57U}) {
      for (const unsigned jobs : {1U, 3U, 64U}) {
        std::istringstream in;
        std::ostringstream out;
        std::ostringstream err;
        std::vector<std::atomic<int>> done(count);
        for_each_log(count, jobs, {.in = in, .out = out, .err = err, .err_is_terminal = terminal},
                     [&](std::size_t i) { ++done[i]; });
        for (const auto& times : done) {
          CHECK(times == 1);
        }
        CHECK(err.str().empty());  // short work is not talked about
      }
    }
  }
}

TEST_CASE("logs are taken in order, and only a few are held at once", "[cli]") {
  for (const std::size_t count : {0U, 1U, 7U, 100U}) {
    for (const unsigned jobs : {1U, 3U}) {
      std::istringstream in;
      std::ostringstream out;
      std::ostringstream err;
      std::atomic<std::size_t> held{0};
      std::atomic<std::size_t> most{0};
      std::vector<std::size_t> taken;
      for_each_log_in_order(
          count, jobs, {.in = in, .out = out, .err = err},
          [&](std::size_t) {
            const std::size_t now = ++held;
            std::size_t before = most;
            while (before < now && !most.compare_exchange_weak(before, now)) {
            }
          },
          [&](std::size_t i) {
            --held;
            taken.push_back(i);
          });
      REQUIRE(taken.size() == count);
      CHECK(std::is_sorted(taken.begin(), taken.end()));
      CHECK(held == 0);
      CHECK(most <= std::size_t{logs_ahead} * jobs);
    }
  }
}
