#include "bothways/core/time.hpp"

#include <catch2/catch.hpp>

using namespace bothways;

namespace {

std::string round_trip(const char* text) {
  const auto parsed = parse_iso8601(text);
  return parsed ? format_iso8601(parsed->instant) : "none";
}

}  // namespace

TEST_CASE("time stamps seen in real GPX files are read", "[core]") {
  // Shapes reported in public issue threads, docs/sources.md [GPXODD].
  CHECK(round_trip("2026-05-04T09:30:12Z") == "2026-05-04T09:30:12.000Z");
  CHECK(round_trip("2026-05-04T09:30:12.34Z") == "2026-05-04T09:30:12.340Z");
  CHECK(round_trip("2026-05-04T09:30:12.123456789012345Z") == "2026-05-04T09:30:12.123Z");
  CHECK(round_trip("2026-05-04T09:30:12+03:00") == "2026-05-04T06:30:12.000Z");
  CHECK(round_trip("2026-05-04T09:30:12-0330") == "2026-05-04T13:00:12.000Z");
  CHECK(round_trip("2026-05-04T09:30:12\xE2\x88\x92"
                   "01:00") == "2026-05-04T10:30:12.000Z");
  CHECK(round_trip("2026-05-04 9:30:12") == "2026-05-04T09:30:12.000Z");
  CHECK(round_trip("2026-5-4T09:30:12,5Z") == "2026-05-04T09:30:12.500Z");
  CHECK(round_trip("\n  2026-05-04T09:30:12Z\t") == "2026-05-04T09:30:12.000Z");
  CHECK(round_trip("2026-05-04T24:00:00Z") == "2026-05-05T00:00:00.000Z");
  CHECK(round_trip("2016-12-31T23:59:60Z") == "2017-01-01T00:00:00.000Z");
  CHECK(round_trip("1969-12-31T23:59:59.999Z") == "1969-12-31T23:59:59.999Z");
}

TEST_CASE("a time without a zone is taken as UTC and says so", "[core]") {
  CHECK_FALSE(parse_iso8601("2026-05-04T09:30:12")->has_zone);
  CHECK(parse_iso8601("2026-05-04T09:30:12Z")->has_zone);
}

TEST_CASE("what is no time stamp is refused", "[core]") {
  for (const char* text :
       {"", "2026", "2026-05-04", "2026-02-30T00:00:00Z", "2026-13-01T00:00:00Z", "2026-05-04T25:00:00Z",
        "2026-05-04T09:61:00Z", "2026-05-04T09:30:61Z", "2026-05-04T09:30:12Q", "2026-05-04T09:30:12+99:00",
        "20260504T093012Z", "yesterday", "2026-05-04T24:00:01Z"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_iso8601(text));
  }
}

TEST_CASE("times are written to the nearest millisecond, in years of any length", "[core]") {
  CHECK(format_iso8601({0}) == "1970-01-01T00:00:00.000Z");
  CHECK(format_iso8601({1'777'593'629'200'499}) == "2026-05-01T00:00:29.200Z");
  CHECK(format_iso8601({-1'000}) == "1969-12-31T23:59:59.999Z");
  CHECK(format_iso8601({-62'135'596'800'000'000}) == "0001-01-01T00:00:00.000Z");
  CHECK(format_iso8601({253'402'300'800'000'000}) == "10000-01-01T00:00:00.000Z");
}
