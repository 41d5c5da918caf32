#include "bothways/report/long_text.hpp"

#include "bothways/report/rows.hpp"
#include "bothways/report/words.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;

namespace {

/// A log with these times, in seconds from an instant.
Log log_at(Instant start, const std::vector<double>& t_s, bool dated = true) {
  Log log;
  log.path = "ride.csv";
  log.dated = dated;
  for (const double t : t_s) {
    Fix fix;
    fix.time = shifted(start, t);
    fix.speed_mps = 1.0;
    log.fixes.push_back(fix);
  }
  return log;
}

Instant instant(const char* text) {
  return parse_iso8601(text)->instant;
}

std::string shown(const Log& log, int decimals) {
  std::ostringstream out;
  LongText(out).add(fixes_table(log), {.path = log.path, .more = "", .time_decimals = decimals});
  return out.str();
}

}  // namespace

TEST_CASE("times of a long table are whole, with the day once above", "[report]") {
  CHECK(shown(log_at(instant("2026-05-04T09:30:00Z"), {0.0, 0.1}), 1) ==
        "ride.csv, 2026-05-04\n"
        "time (UTC)  speed m/s\n"
        "09:30:00.0      1.000\n"
        "09:30:00.1      1.000\n");
}

TEST_CASE("a new day gets a line of its own, an unknown day says so", "[report]") {
  CHECK(shown(log_at(instant("2026-05-04T23:59:59Z"), {0.0, 1.0}), 0) ==
        "ride.csv, 2026-05-04\n"
        "time (UTC)  speed m/s\n"
        "23:59:59        1.000\n"
        "\n"
        "ride.csv, 2026-05-05\n"
        "time (UTC)  speed m/s\n"
        "00:00:00        1.000\n");
  CHECK(shown(log_at(instant("1970-01-01T23:59:59Z"), {0.0, 1.0}, false), 0) ==
        "ride.csv, the day is not in the log\n"
        "time      speed m/s\n"
        "23:59:59      1.000\n"
        "00:00:00      1.000\n");
}

TEST_CASE("parts of one log and day have their headings, and the line above once", "[report]") {
  const Log log = log_at(instant("2026-05-04T09:30:00Z"), {0.0, 0.04, 0.08});
  std::ostringstream out;
  LongText text(out);
  const RowsHead head{.path = log.path, .more = "", .time_decimals = 2};
  text.add(fixes_table(log, 0, 2), head);
  text.add(fixes_table(log, 2, 2), head);
  CHECK(out.str() ==
        "ride.csv, 2026-05-04\n"
        "time (UTC)   speed m/s\n"
        "09:30:00.00      1.000\n"
        "09:30:00.04      1.000\n"
        "\n"
        "time (UTC)   speed m/s\n"
        "09:30:00.08      1.000\n");
}

TEST_CASE("a time needs as many decimals as it has, three at most", "[report]") {
  const Instant start = instant("2026-05-04T09:30:00Z");
  CHECK(decimals_needed(start) == 0);
  CHECK(decimals_needed(shifted(start, 0.1)) == 1);
  CHECK(decimals_needed(shifted(start, 0.04)) == 2);
  CHECK(decimals_needed(shifted(start, 0.125)) == 3);
  CHECK(decimals_needed(shifted(start, 0.0999999)) == 1);
}
