#include "bothways/speed/derive.hpp"
#include "lib/run/rides.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>

using namespace bothways;

namespace {

/// A reading a second of the four starts, handed over so many at a time, stamped as they come.
Log in_bursts(std::size_t of) {
  Log log = four_starts().log;
  Log out = log;
  out.fixes.clear();
  for (std::size_t i = 0; i < log.fixes.size(); i += 10) {
    out.fixes.push_back(log.fixes[i]);
  }
  for (std::size_t i = 0; i < out.fixes.size(); ++i) {
    const std::size_t last = std::min(i - i % of + of, out.fixes.size()) - 1;
    const double late_s = seconds_between(out.fixes[i].time, out.fixes[last].time);
    out.fixes[i].time = shifted(out.fixes[i].time, late_s + 0.004 * static_cast<double>(i % of));
  }
  return out;
}

/// Two sources side by side: each fix again 10 ms later, another place and speed.
Log twice(Log log) {
  Log out = log;
  out.fixes.clear();
  for (std::size_t i = 0; i < log.fixes.size(); i += 10) {
    Fix fix = log.fixes[i];
    out.fixes.push_back(fix);
    fix.time = shifted(fix.time, 0.01);
    fix.lat_deg += 1e-5;
    out.fixes.push_back(fix);
  }
  return out;
}

}  // namespace

TEST_CASE("stamps that come in bursts are told, and not what follows from them", "[speed]") {
  for (const std::size_t of : {2U, 3U, 5U}) {
    CAPTURE(of);
    const SpeedSeries series = speed_series(in_bursts(of));
    CHECK(has_note(series.notes, "burst-stamps"));
    CHECK_FALSE(has_note(series.notes, "gaps"));
    CHECK_FALSE(has_note(series.notes, "speed-spikes"));
  }
}

TEST_CASE("neither steady stamps, nor gaps, nor two sources side by side are bursts", "[speed]") {
  CHECK_FALSE(has_note(speed_series(four_starts().log).notes, "burst-stamps"));
  CHECK_FALSE(has_note(speed_series(without(four_starts().log, 20.0, 24.0)).notes, "burst-stamps"));
  CHECK_FALSE(has_note(speed_series(in_bursts(1)).notes, "burst-stamps"));
  CHECK_FALSE(has_note(speed_series(twice(four_starts().log)).notes, "burst-stamps"));
}
