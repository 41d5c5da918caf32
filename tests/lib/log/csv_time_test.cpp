#include "bothways/core/error.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

using namespace bothways;
using namespace log_test;
using Catch::Contains;

namespace {

/// Rows of a time column beside a speed, with ; between the cells.
std::string rows(const std::string& column, const std::vector<std::string>& times) {
  std::string text = column + ";speed_mps\n";
  for (const std::string& time : times) {
    text += time + ";1\n";
  }
  return text;
}

Log read_times(const std::string& column, const std::vector<std::string>& times,
               const ReadOptions& options = {}) {
  return read_text(rows(column, times), options);
}

std::string first_time(const std::string& column, const std::string& time, const ReadOptions& options = {}) {
  return format_iso8601(read_times(column, {time}, options).fixes.at(0).time);
}

/// Time from the first row to the last.
double span_s(const Log& log) {
  return static_cast<double>(log.fixes.back().time.unix_us - log.fixes.front().time.unix_us) / 1e6;
}

}  // namespace

TEST_CASE("the name of a CSV time column says what its numbers count", "[log]") {
  for (const char* column : {"Time (ms)", "time_ms", "Time [ms]", "timestamp (milliseconds)", "Elapsed ms"}) {
    CAPTURE(column);
    const Log log = read_times(column, {"0", "100", "200"});
    CHECK(span_s(log) == 0.2);
    CHECK_FALSE(log.dated);
  }
  CHECK(span_s(read_times("Time (\xC2\xB5s)", {"0", "100000"})) == 0.1);
  CHECK(span_s(read_times("Time (s)", {"0", "0.1"})) == 0.1);
  CHECK(first_time("timestamp_ns", "1777887000250000000") == "2026-05-04T09:30:00.250Z");
  CHECK(first_time("time_s", "1777887000250") == "2026-05-04T09:30:00.250Z");  // no such seconds
}

TEST_CASE("CSV dates in figures are read where only one order gives a date", "[log]") {
  const std::string truth = "2026-05-13T09:30:12.500Z";
  for (const char* time :
       {"2026-05-13 09:30:12.5", "2026/05/13 09:30:12.5", "13/05/2026 09:30:12.5", "05/13/2026 09:30:12.500",
        "5/13/2026 9:30:12.5 AM", "13.05.2026 09:30:12,5", "13-05-2026 09:30:12.5", "13 May 2026 09:30:12.5",
        "May 13, 2026 9:30:12.5 a.m.", "13-May-26 09:30:12:500", "09:30:12.5 13.05.2026",
        "20260513T09:30:12.5", "13.5.2026, 11:30:12.5 +02:00", "13/05/2026 09:30:12.5 UTC"}) {
    CAPTURE(time);
    CHECK(first_time("time", time) == truth);
  }
  CHECK(first_time("time", "13.05.2026 12:00:05 AM") == "2026-05-13T00:00:05.000Z");
  CHECK(first_time("time", "13.05.2026 12:00:05 PM") == "2026-05-13T12:00:05.000Z");
  CHECK(first_time("time", "04.05.2026 09:30:12") == "2026-05-04T09:30:12.000Z");  // points: day first
  CHECK(first_time("time", "05/05/2026 09:30:12") == "2026-05-05T09:30:12.000Z");  // the same in both orders
}

TEST_CASE("a CSV date over 12 settles the order of all before it", "[log]") {
  const Log log =
      read_times("time", {"12/05/2026 23:59:59.5", "13/05/2026 00:00:00.0", "13/05/2026 00:00:00.5"});
  CHECK(format_iso8601(log.fixes[0].time) == "2026-05-12T23:59:59.500Z");
  CHECK(span_s(log) == 1.0);
}

TEST_CASE("CSV dates that can be read in several ways are asked for, and read as told", "[log]") {
  const std::string time = "04/05/2026 09:30:12";
  CHECK_THROWS_WITH(read_times("time", {time}), Contains("ride:2: ") && Contains("\"" + time + "\"") &&
                                                    Contains("--date-order dmy or mdy"));
  CHECK_THROWS_WITH(read_times("time", {"04/05/06 09:30:12"}), Contains("--date-order dmy, mdy or ymd"));
  CHECK(first_time("time", time, {.date_order = DateOrder::dmy}) == "2026-05-04T09:30:12.000Z");
  CHECK(first_time("time", time, {.date_order = DateOrder::mdy}) == "2026-04-05T09:30:12.000Z");
  CHECK(first_time("time", "04/05/06 09:30:12", {.date_order = DateOrder::ymd}) ==
        "2004-05-06T09:30:12.000Z");
  CHECK(first_time("time", "2026-05-04 09:30:12", {.date_order = DateOrder::mdy}) ==
        "2026-05-04T09:30:12.000Z");
  const Log all_day =
      read_text("date,time,lat,lon\n5/6/2026,09:30:00,46.5,9.1\n", {.date_order = DateOrder::mdy});
  CHECK(format_iso8601(all_day.fixes[0].time) == "2026-05-06T09:30:00.000Z");
}

TEST_CASE("CSV times of day without a date run on past midnight", "[log]") {
  const Log log = read_times("time", {"23:59:59.5", "00:00:00.0", "00:00:00.5"});
  CHECK(span_s(log) == 1.0);
  CHECK_FALSE(log.dated);
  CHECK(find_note(log, "no-date") != nullptr);
  CHECK(span_s(read_times("time", {"11:59:59 PM", "12:00:01 AM"})) == 2.0);
  CHECK(span_s(read_times("elapsed", {"0:00:00", "0:00:00.25"})) == 0.25);
  CHECK(span_s(read_times("elapsed", {"23:59:59", "24:00:01", "100:00:00"})) == 360'000.0 - 86'399.0);
}

TEST_CASE("CSV times of minutes and seconds are read where something says that they are these", "[log]") {
  CHECK(span_s(read_times("time", {"59:59.5", "00:00.0", "00:00.5"})) == 1.0);  // as spreadsheets show a time
  CHECK(span_s(read_times("time", {"0:00", "0:01", "24:00"})) == 1440.0);
  CHECK(span_s(read_times("elapsed", {"0:00", "0:01"})) == 1.0);
  CHECK_THROWS_WITH(read_times("time", {"09:30", "09:31"}), Contains("\"09:30\"") && Contains("0:09:30"));
}

TEST_CASE("CSV days of a spreadsheet are told from seconds by their steps", "[log]") {
  // 2026-05-04T09:30:00 is day 46146 and 34200 of 86400 s; 0.1 s is 1.157e-6 of a day.
  std::vector<std::string> days;
  std::vector<std::string> commas;
  for (int i = 0; i < 20; ++i) {
    days.push_back(fmt::format("{:.10f}", 46146.0 + (34'200.0 + 0.1 * i) / 86'400.0));
    commas.push_back(days.back());
    commas.back()[5] = ',';
  }
  for (const auto& times : {days, commas}) {
    const Log log = read_times("time", times);
    CHECK(log.dated);
    CHECK(std::abs(seconds_between(Instant{1'777'887'000'000'000}, log.fixes[0].time)) <
          1e-4);  // 10 decimals: 9 us
    CHECK(std::abs(span_s(log) - 1.9) < 1e-4);
    CHECK(find_note(log, "no-zone") != nullptr);
  }
  const Log seconds = read_times("time", {"46146.0", "46146.1", "46146.2"});
  CHECK_FALSE(seconds.dated);
  CHECK(std::abs(span_s(seconds) - 0.2) < 1e-9);
  const Log split = read_text("date;time;speed_mps\n46146;0.3958333333;1\n46146;0.3958449074;1\n");
  CHECK(split.dated);
  CHECK(std::abs(span_s(split) - 1.0) < 1e-4);
  CHECK(format_iso8601(read_text("date;time;speed_mps\n46146;09:30:00;1\n").fixes[0].time) ==
        "2026-05-04T09:30:00.000Z");
}

TEST_CASE("a number beside a date is no time of day", "[log]") {
  CHECK_THROWS_WITH(read_text("date,time,speed_mps\n2026-05-04,93012.5,1\n"),
                    Contains("\"93012.5\"") && Contains("09:30:12.5"));
  CHECK(read_text("date,time_s,speed_mps\n2026-05-04,12.5,1\n").fixes.size() == 1);
}

TEST_CASE("a CSV time of day without colons is read where something says that it is one", "[log]") {
  CHECK(first_time("date;time", "2026-05-04;103012.5") == "2026-05-04T10:30:12.500Z");
  CHECK(span_s(read_times("time", {"095959.9", "100000.0", "100000.1"})) == 0.2);   // a zero in front
  CHECK(span_s(read_times("time", {"125959.9", "130000.0", "130000.1"})) == 0.2);   // 59 and then 00
  CHECK(span_s(read_times("time", {"125958.9", "125999.0", "126000.1"})) == 41.2);  // no such clock
  CHECK(span_s(read_times("time_s", {"093000", "093100"})) == 100.0);
  CHECK_THROWS_WITH(read_times("time", {"123000.1", "123000.2"}),
                    Contains("ride:2: ") && Contains("\"123000.1\"") && Contains("time_s"));
}

TEST_CASE("whole numbers of a CSV time that does not say what it counts are settled by their step", "[log]") {
  CHECK(span_s(read_times("time", {"0", "200", "400"})) == 0.4);  // no log has a fix in 200 s
  CHECK(span_s(read_times("time", {"0", "1000", "2000"})) == 2.0);
  CHECK(span_s(read_times("time", {"0", "1", "2"})) == 2.0);
  CHECK(span_s(read_times("time", {"0", "0.1", "20.5"})) == 20.5);
  for (const char* step : {"100", "40", "100000"}) {  // ten a second, or one in 100 s
    CAPTURE(step);
    CHECK_THROWS_WITH(read_times("time", {"0", step}), Contains("time_s, time_ms or time_us"));
  }
  CHECK(span_s(read_times("time", {"1777887000", "1777887060"})) == 60.0);  // since 1970
}

TEST_CASE("CSV times that stop at the minute are told with what to do where rows share them", "[log]") {
  const std::string time = "13/05/2026 09:30";
  CHECK_THROWS_WITH(read_times("time", {time, time, "13/05/2026 09:31"}),
                    Contains("ride:2: ") && Contains("\"" + time + "\"") && Contains("hh:mm:ss.000"));
  CHECK(span_s(read_times("time", {time, "13/05/2026 09:31"})) == 60.0);
}

TEST_CASE("the form of a clock in the name of a CSV column is no unit", "[log]") {
  CHECK(first_time("Date;Time (hh:mm:ss)", "2026-05-04;10:30:12.5") == "2026-05-04T10:30:12.500Z");
  CHECK(span_s(read_times("Elapsed (h:mm:ss.s)", {"0:00:00.0", "0:00:00.5"})) == 0.5);
  CHECK(span_s(read_times("Time (mm:ss)", {"00:00", "00:01"})) == 1.0);
  CHECK(span_s(read_times("Time (min)", {"0", "0.5"})) == 30.0);
  CHECK(span_s(read_times("Time (h)", {"0", "0.5"})) == 1800.0);
  CHECK(span_s(read_times("millis", {"0", "100"})) == 0.1);
  CHECK_THROWS_WITH(read_text("GPS Time,lat,lon\n1,2,3\n"), Contains("\"GPS Time\"") && Contains("time_s"));
}

TEST_CASE("units in a row of their own below a CSV header count as if they stood in it", "[log]") {
  for (const char* end : {"\n", "\r\n"}) {
    const std::string e = end;
    const Log log = read_text("Time,Lat,Lon,Speed" + e + "ms,deg,,km/h" + e + "0,46.5,9.1,36" + e +
                              "100,46.5,9.1,36" + e);
    REQUIRE(log.fixes.size() == 2);
    CHECK(span_s(log) == 0.1);
    CHECK(log.fixes[0].speed_mps == 10.0);
    CHECK(find_note(log, "no-time") == nullptr);
  }
}

TEST_CASE("CSV times that cannot be read are quoted, with the forms that can", "[log]") {
  for (const char* time :
       {"yesterday", "31.02.2026 09:30:12", "25:61:00 05/05", "13/13/2026 09:30:12", "14:30:12 PM"}) {
    CAPTURE(time);
    CHECK_THROWS_WITH(read_times("time", {time, time}),
                      Contains("ride:2: ") && Contains(time) && Contains("04.05.2026 09:30:12"));
  }
  CHECK_THROWS_WITH(read_times("date;time", {"13. floreal 2026;09:30:12"}),
                    Contains("\"13. floreal 2026 09:30:12\""));
  const std::string endless(5000, 'x');
  CHECK_THROWS_WITH(read_times("time", {endless}), !Contains(std::string(41, 'x')));
}

TEST_CASE("decimal commas inside quotes are read, and thousands where others have a point", "[log]") {
  const Log comma = read_text("time,lat,lon,speed_kmh\n1777887000,\"46,5\",\"9,125\",\"36,0\"\n");
  CHECK(comma.fixes[0].lat_deg == 46.5);
  CHECK(comma.fixes[0].lon_deg == 9.125);
  CHECK(comma.fixes[0].speed_mps == 10.0);
  const Log thousands =
      read_text("time,lat,lon,rpm\n1777887000,46.5,9.125,\"1,250\"\n1777887001,46.5,9.125,\"12,50\"\n");
  CHECK(thousands.channels.at(0).value[0] == 1.25);  // "12,50" says that commas are decimal commas
  const Log sure = read_text("time,lat,lon,rpm\n1777887000,46.5,9.125,\"1,250\"\n");
  CHECK(sure.channels.at(0).value[0] == 1250.0);
}

TEST_CASE("German, French, Spanish and Italian names of columns are known", "[log]") {
  for (const char* header : {"Datum;Uhrzeit;Breite;L\xC3\xA4nge;H\xC3\xB6he (m);Geschwindigkeit (km/h)",
                             "Datum;Zeit;Breitengrad;L\xE4ngengrad;H\xF6he [m];Geschwindigkeit [km/h]",
                             "Date;Heure;Latitude;Longitude;Altitude (m);Vitesse (km/h)",
                             "Date;Heure;Latitude;Longitude;Altitude (m);Vitesse en km/h",
                             "Fecha;Hora;Latitud;Longitud;Altitud;Velocidad (km/h)",
                             "Data;Ora;Latitudine;Longitudine;Quota;Velocit\xC3\xA0 (km/h)"}) {
    CAPTURE(header);
    const Log log = read_text(std::string(header) + "\n13.05.2026;09:30:12,5;46,5;9,1;450,5;36\n");
    REQUIRE(log.fixes.size() == 1);
    CHECK(format_iso8601(log.fixes[0].time) == "2026-05-13T09:30:12.500Z");
    CHECK(log.fixes[0].lat_deg == 46.5);
    CHECK(log.fixes[0].lon_deg == 9.1);
    CHECK(log.fixes[0].ele_m == 450.5);
    CHECK(log.fixes[0].speed_mps == 10.0);
    CHECK(log.channels.empty());
  }
}

TEST_CASE("a date and a time in one CSV column are known by name in five languages", "[log]") {
  for (const char* column : {"Date and time", "Datum und Uhrzeit", "Date et heure", "Fecha y hora",
                             "Data e ora", "Date/Time", "Local Time"}) {
    CAPTURE(column);
    CHECK(first_time(column, "13/05/2026 09:30:12.5") == "2026-05-13T09:30:12.500Z");
  }
  CHECK(span_s(read_times("Dur\xC3\xA9\x65", {"00:00", "00:01"})) == 1.0);
}

TEST_CASE("an English name of a column goes before a foreign one, and a date before a time since the start",
          "[log]") {
  const Log log = read_text("temps,elapsed_s,time,speed_mps\n21,0,1777887000,1\n21.5,1,1777887001,1\n");
  CHECK(log.dated);
  REQUIRE(log.channels.size() == 2);
  CHECK(log.channels[0].name == "temps");
}

TEST_CASE("lines before the header of a CSV log are passed over", "[log]") {
  const std::string header = "time,lat,lon\n1777887000,46.5,9.1\n";
  for (const char* before : {"Ride of today\n\n", "Logger;v1.2\nSerial;12345\n", "# time,lat,lon\n",
                             "\xEF\xBB\xBFtitle,of,this\n", "0,1,2\n"}) {
    CAPTURE(before);
    const Log log = read_text(before + header);
    CHECK(log.format == LogFormat::csv);
    CHECK(log.fixes.size() == 1);
    CHECK(log.notes.empty());
  }
  std::string many;
  for (int i = 0; i < 200; ++i) {
    many += "nothing, again\n";
  }
  CHECK_THROWS_AS(read_text(many + header), LogError);
}
