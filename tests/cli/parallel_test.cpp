#include "cli/parallel.hpp"

#include <catch2/catch.hpp>

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
