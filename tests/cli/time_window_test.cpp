#include "cli/time_window.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>

using namespace bothways;
using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

/// A log of two fixes.
Log log_of(const char* first, const char* last, bool dated = true) {
  Log log{.path = "ride", .dated = dated};
  for (const char* text : {first, last}) {
    Fix fix;
    fix.time = parse_iso8601(text).value().instant;
    log.fixes.push_back(fix);
  }
  return log;
}

std::string span_of(const char* window, const Log& log, const Zone& zone = {}) {
  const TimeSpan span = span_in(parse_time_window(window), extent_of(log), zone);
  return format_iso8601(span.from).substr(5, 14) + " " + format_iso8601(span.until).substr(5, 14);
}

const Log morning = log_of("2026-05-04T09:30:00Z", "2026-05-04T11:45:00Z");
const Log night = log_of("2026-05-04T23:30:00Z", "2026-05-05T01:00:00Z");

}  // namespace

TEST_CASE("a window of times of day is that of the day of the log", "[cli]") {
  CHECK(span_of("10:30-11:10", morning) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("10:30:15 - 11:10Z", morning) == "05-04T10:30:15 05-04T11:10:00");
  CHECK(span_of("10:30\xE2\x80\x93"
                "11:10",
                morning) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("2026-05-04 10:30 to 11:10", morning) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("2026-05-04 10:30-2026-05-04T11:10", morning) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("08:00-10:00", morning) == "05-04T09:30:00 05-04T10:00:00");
}

TEST_CASE("a window outside the log is empty", "[cli]") {
  for (const char* window :
       {"12:00-13:00", "2026-05-05 10:30-11:00", "2026-05-04 12:00", "12:00", "07:00-08:00"}) {
    CAPTURE(window);
    const TimeSpan span = span_in(parse_time_window(window), extent_of(morning), {});
    CHECK(span.from == span.until);
  }
}

TEST_CASE("a window that begins before midnight ends after it", "[cli]") {
  CHECK(span_of("23:40-00:20", night) == "05-04T23:40:00 05-05T00:20:00");
  CHECK(span_of("00:10-00:20", night) == "05-05T00:10:00 05-05T00:20:00");
  CHECK(span_of("00:10", night) == "05-05T00:10:00 05-05T01:00:00");
}

TEST_CASE("a time without a zone is local, one with Z is UTC", "[cli]") {
  const Zone berlin("Europe/Berlin");
  CHECK(span_of("12:30-13:10", morning, berlin) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("10:30Z-13:10", morning, berlin) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("2026-05-04 12:30-13:10", morning, berlin) == "05-04T10:30:00 05-04T11:10:00");
  CHECK(span_of("01:40-02:20", night, berlin) == "05-04T23:40:00 05-05T00:20:00");
}

TEST_CASE("a log without a date has its own times of day, and no dates", "[cli]") {
  const Log undated = log_of("1970-01-01T09:30:00Z", "1970-01-01T11:45:00Z", false);
  CHECK(span_of("10:30-11:10", undated, Zone("Europe/Berlin")) == "01-01T10:30:00 01-01T11:10:00");
  const TimeSpan span = span_in(parse_time_window("2026-05-04 10:30-11:10"), extent_of(undated), {});
  CHECK(span.from == span.until);
}

TEST_CASE("what is no time is quoted, with what can be written", "[cli]") {
  for (const char* text : {"", "10", "1030", "25:00", "10:30-", "-", "springs", "10:30-11:70"}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse_time_window(text), Contains("is no time; write 10:30"));
  }
  CHECK_THROWS_WITH(parse_time_window("2026-05-04 11:10-2026-05-04 10:30"),
                    Contains("ends before it begins"));
  CHECK_THROWS_WITH(Zone("Europe/Nowhere"), Contains("no time zone 'Europe/Nowhere'") && Contains("tzdata"));
}
