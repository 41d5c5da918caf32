#include "bothways/core/error.hpp"
#include "bothways/log/csv_columns.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>

using namespace bothways;
using namespace log_test;
using Catch::WithinAbs;

TEST_CASE("CSV times are told by their form and size", "[log]") {
  const auto time_of = [](const std::string& column, const std::string& cell) {
    const Log log = read_text(column + ",speed_mps\n" + cell + ",1\n");
    return format_iso8601(log.fixes[0].time);
  };
  CHECK(time_of("time", "2026-05-04T09:30:00.25Z") == "2026-05-04T09:30:00.250Z");
  CHECK(time_of("time", "2026-05-04 12:30:00.25+03:00") == "2026-05-04T09:30:00.250Z");
  CHECK(time_of("t", "1777887000.25") == "2026-05-04T09:30:00.250Z");
  CHECK(time_of("Timestamp", "1777887000250") == "2026-05-04T09:30:00.250Z");
  CHECK(time_of("time_unix_ms", "1777887000250") == "2026-05-04T09:30:00.250Z");
  CHECK(time_of("time_unix_us", "1777887000250000") == "2026-05-04T09:30:00.250Z");
  CHECK(time_of("t", "12.5") == "1970-01-01T00:00:12.500Z");
  CHECK_FALSE(read_text("t,speed_mps\n12.5,1\n").dated);
}

TEST_CASE("a date column beside a time of day makes an instant", "[log]") {
  const Log log = read_text("date,time,lat,lon\n2026-05-04,09:30:00.5Z,46.5,9.1\n");
  CHECK(format_iso8601(log.fixes[0].time) == "2026-05-04T09:30:00.500Z");
}

TEST_CASE("a CSV speed counts in the unit of its column's name", "[log]") {
  const auto speed = [](const std::string& column) {
    return read_text("time_unix_s," + column + "\n1777887000,36\n").fixes[0].speed_mps;
  };
  CHECK(speed("speed_mps") == 36.0);
  CHECK(speed("speed_kmh") == 10.0);
  CHECK(speed("Speed (km/h)") == 10.0);
  CHECK_THAT(speed("speed_mph"), WithinAbs(36.0 * 0.44704, 1e-12));
  CHECK_THAT(speed("speed_kn"), WithinAbs(36.0 * 1852.0 / 3600.0, 1e-12));
  CHECK(speed("Speed over ground (km/h)") == 10.0);
  CHECK(speed("velocity_mps") == 36.0);
  CHECK(speed("Geschwindigkeit [km/h]") == 10.0);
  CHECK_THAT(speed("Speed (kt)"), WithinAbs(36.0 * 1852.0 / 3600.0, 1e-12));
  CHECK_THAT(speed("Speed over ground (knots)"), WithinAbs(36.0 * 1852.0 / 3600.0, 1e-12));
}

TEST_CASE("a column that only sounds like the speed is noted and not used", "[log]") {
  for (const char* column : {"Velocity", "Speed over ground", "Geschwindigkeit", "speed_fps", "SOG (kn)",
                             "wheel_speed_kmh", "mph"}) {
    CAPTURE(column);
    const Log log = read_text("time,lat,lon," + std::string(column) + "\n1777887000,46.5,9.1,36\n");
    CHECK_FALSE(is_known(log.fixes[0].speed_mps));
    REQUIRE(find_note(log, "speed-without-unit") != nullptr);
    CHECK_THAT(find_note(log, "speed-without-unit")->text,
               Catch::Contains("\"" + std::string(column) + "\""));
  }
  for (const char* column : {"speed_accuracy_mps", "wind_speed_mps", "battery_v", "engine_speed_rpm"}) {
    CAPTURE(column);
    const Log log = read_text("time,lat,lon," + std::string(column) + "\n1777887000,46.5,9.1,3\n");
    CHECK(find_note(log, "speed-without-unit") == nullptr);
  }
  const Log both = read_text("time,lat,lon,gps_speed_mph,speed_mps\n1777887000,46.5,9.1,36,16\n");
  CHECK(both.fixes[0].speed_mps == 16.0);  // the plain name goes first
}

TEST_CASE("a table without a time column is told so, also if it names nothing known", "[log]") {
  CHECK_THROWS_WITH(read_text("Wann;Geschwindigkeit;Foo\n1;2;3\n"), Catch::Contains("names no time column"));
}

TEST_CASE("a speed column without a unit is not guessed", "[log]") {
  const Log log = read_text("time,lat,lon,speed\n1777887000,46.5,9.1,36\n");
  CHECK_FALSE(is_known(log.fixes[0].speed_mps));
  CHECK(find_note(log, "speed-without-unit") != nullptr);
  CHECK_THROWS_AS(read_text("time,speed\n1777887000,36\n"), LogError);
}

TEST_CASE("further numeric columns become channels that keep step with the fixes", "[log]") {
  const Log log = read_text(
      "time,lat,lon,battery_v,rider,rpm\n1777887002,46.5,9.1,12.25,x,\n1777887000,46.5,9.1,12.5,y,\n"
      "1777887001,46.5,9.1,,z,\n");
  REQUIRE(log.channels.size() == 1);  // words and empty columns are none
  CHECK(log.channels[0].name == "battery_v");
  REQUIRE(log.channels[0].value.size() == 3);
  CHECK(log.channels[0].value[0] == 12.5);  // sorted by time with the fixes
  CHECK_FALSE(is_known(log.channels[0].value[1]));
  CHECK(log.channels[0].value[2] == 12.25);
}

TEST_CASE("quotes follow RFC 4180", "[log]") {
  std::vector<std::string> cells;
  CHECK(split_csv("a,\"b,\"\"c\"\"\",d", ',', cells));
  CHECK(cells == std::vector<std::string>{"a", "b,\"c\"", "d"});
  CHECK(split_csv("", ',', cells));
  CHECK(cells == std::vector<std::string>{""});
  CHECK_FALSE(split_csv("a,\"b", ',', cells));
}

TEST_CASE("a quote that never ends loses its row, not the memory", "[log]") {
  std::string text = "time,lat,lon\n1777887000,46.5,9.1\n1777887001,\"46.5,9.1\n";
  for (int i = 0; i < 10'000; ++i) {
    text += "1777887002,46.5,9.1\n";
  }
  const Log log = read_text(text);
  CHECK(find_note(log, "bad-row") != nullptr);
  CHECK(find_note(log, "bad-row")->line == 3);
}

TEST_CASE("a last line without its end counts where its last figure is as long as those above", "[log]") {
  const std::string above = "time,lat,lon\n1777887000,46.5,9.12\n";
  CHECK(read_text(above + "1777887001,46.5,9.13").fixes.size() == 2);
  CHECK(read_text(above + "1777887001,46.5,11.13").fixes.size() == 2);
  CHECK(find_note(read_text(above + "1777887001,46.5,9.13"), "cut-off") == nullptr);
  for (const char* cut : {"1777887001,46.5,9.1", "1777887001,46.5,9.", "1777887001,46.5,9",
                          "1777887001,46.5,", "1777887001,46.5", "1777887001,46.5,9.13,", "17"}) {
    CAPTURE(cut);
    const Log log = read_text(above + cut);
    CHECK(log.fixes.size() == 1);
    CHECK(find_note(log, "cut-off") != nullptr);
  }
}

TEST_CASE("a last line of whole numbers without its end counts where none above is longer", "[log]") {
  const std::string above = "lat,lon,time\n46.5,9.12,1777887000\n";
  CHECK(read_text(above + "46.5,9.13,1777887001").fixes.size() == 2);
  CHECK(read_text(above + "46.5,9.13,177788700").fixes.size() == 1);
}

TEST_CASE("rows without a readable time are left out with a note", "[log]") {
  const Log log = read_text("time,lat,lon\nnever,46.5,9.1\n1777887000,46.5,9.1\n,,\n");
  CHECK(log.fixes.size() == 1);
  CHECK(find_note(log, "no-time")->text ==
        "2 rows were left out because their time cannot be read, such as \"never\" (the first in line 2).");
}

TEST_CASE("a CSV that lacks a column is refused with its name", "[log]") {
  CHECK_THROWS_WITH(read_text("lat,lon\n1,2\n"), Catch::Contains("names no time column"));
  CHECK_THROWS_WITH(read_text("time,lat\n1,2\n"), Catch::Contains("neither lat and lon nor a speed"));
}
