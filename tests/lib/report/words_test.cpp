#include "bothways/report/words.hpp"

#include "bothways/report/escape.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;

TEST_CASE("a heading has its compass word", "[report]") {
  CHECK(direction_words(0) == "N 0°");
  CHECK(direction_words(359.7) == "N 0°");
  CHECK(direction_words(87.2) == "E 87°");
  CHECK(direction_words(-45) == "NW 315°");
  CHECK(direction_words(22.4) == "N 22°");
  CHECK(direction_words(22.6) == "NE 23°");
  CHECK(direction_words(nan_value).empty());
}

TEST_CASE("text is broken at blanks and never wider than asked", "[report]") {
  CHECK(wrapped("one two three", 8, "- ", "  ") == "- one\n  two\n  three");
  CHECK(wrapped("", 8, "- ") == "- ");
  CHECK(wrapped("  spaced   out ", 80) == "spaced out");
  const std::string text =
      wrapped("a/very/long/path/with/ümläuts/and/no/blank.gpx: what it is", 16, "", "  ");
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(display_width(line) <= 16);
    CHECK(escaped(line) == line);  // no code point was cut in two
  }
}

TEST_CASE("times of an undated log are times of day", "[report]") {
  const Instant at{1777887012340000};
  CHECK(iso_time(at, true) == "2026-05-04T09:30:12.340Z");
  CHECK(iso_time(at, false) == "09:30:12.340Z");
  CHECK(time_of_day(shifted(at, 0.3)) == "09:30:13");
}

TEST_CASE("rows that are no readings are not counted as fixes", "[report]") {
  CHECK(count_of_fixes(1, 0) == "1 fix");
  CHECK(count_of_fixes(3050, 0) == "3050 fixes");
  CHECK(count_of_fixes(3050, 305) == "3050 rows from 305 readings");
}
