#include "bothways/speed/interpolation.hpp"

#include "bothways/core/error.hpp"
#include "bothways/core/units.hpp"
#include "bothways/log/read.hpp"
#include "bothways/speed/derive.hpp"
#include "lib/speed/rides.hpp"
#include "support/notes.hpp"
#include "support/real_logs.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// Rows on straight lines between the fixes of a log, as an application draws them.
Log drawn_between(const Log& readings, double rows_hz, double first_s, double step_mps) {
  Log log = readings;
  log.fixes.clear();
  std::size_t k = 0;
  for (int i = 0;; ++i) {
    const Instant at = shifted(readings.fixes.front().time, first_s + i / rows_hz);
    while (k + 2 < readings.fixes.size() && readings.fixes[k + 1].time < at) {
      ++k;
    }
    const Fix& a = readings.fixes[k];
    const Fix& b = readings.fixes[k + 1];
    if (b.time < at) {
      return log;
    }
    const double share = seconds_between(a.time, at) / seconds_between(a.time, b.time);
    const auto between = [share](double from, double to) { return from + share * (to - from); };
    Fix row = a;
    row.time = at;
    row.speed_mps = std::round(between(a.speed_mps, b.speed_mps) / step_mps) * step_mps;
    row.lat_deg = between(a.lat_deg, b.lat_deg);
    row.lon_deg = between(a.lon_deg, b.lon_deg);
    log.fixes.push_back(row);
  }
}

/// The speed in a row between two readings: on a line, on a cubic through them with the slopes of their
/// neighbours, or on the line of the last change run on from the first.
enum class Made { line, cubic, run_on };
double made_between(Made made, const std::vector<Fix>& readings, std::size_t k, double share) {
  const auto v = [&](std::size_t i) { return readings[std::min(i, readings.size() - 1)].speed_mps; };
  const double before = v(k > 0 ? k - 1 : 0);
  if (made == Made::run_on) {
    return v(k) + share * (v(k) - before);
  }
  if (made == Made::line) {
    return v(k) + share * (v(k + 1) - v(k));
  }
  const double begin = 0.5 * (v(k + 1) - before);
  const double end = 0.5 * (v(k + 2) - v(k));
  const double u = share;
  return (1.0 + 2.0 * u) * (1.0 - u) * (1.0 - u) * v(k) + u * (1.0 - u) * (1.0 - u) * begin +
         u * u * (3.0 - 2.0 * u) * v(k + 1) - u * u * (1.0 - u) * end;
}

/// Ten rows a second, made up between the readings of a log and written in mm/s: in coarser steps two cubics
/// look like one.
Log made_up(const Log& readings, Made made, double first_s) {
  Log log = readings;
  log.fixes.clear();
  const auto& all = readings.fixes;
  for (std::size_t k = 0; k + 1 < all.size(); ++k) {
    const double period_s = seconds_between(all[k].time, all[k + 1].time);
    for (double at_s = first_s; at_s < period_s - 1e-6; at_s += 0.1) {
      Fix row = all[k];
      row.time = shifted(row.time, at_s);
      row.speed_mps = std::max(0.0, std::round(made_between(made, all, k, at_s / period_s) / 0.001) * 0.001);
      log.fixes.push_back(row);
    }
  }
  return log;
}

Log logged_at(double rate_hz) {
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  return logged(model, 41);
}

}  // namespace

TEST_CASE("of rows on straight lines between readings only the readings count", "[speed]") {
  struct Case {
    double readings_hz;
    double rows_hz;
    double first_s;
  };
  for (const Case c :
       {Case{1.0, 10.0, 0.03}, Case{1.0, 10.0, 0.0}, Case{1.0, 5.0, 0.07}, Case{2.0, 10.0, 0.04}}) {
    CAPTURE(c.readings_hz, c.rows_hz, c.first_s);
    const Log readings = logged_at(c.readings_hz);
    const SpeedSeries series = speed_series(drawn_between(readings, c.rows_hz, c.first_s, 0.01));
    CHECK(has_note(series.notes, "interpolated"));
    CHECK_THAT(series.receiver.rate_hz, WithinAbs(c.readings_hz, 1e-3));
    REQUIRE(series.stretches.size() == 1);
    const Stretch& s = series.stretches.front();
    const double begin_s = seconds_between(readings.fixes.front().time, s.start);
    std::vector<double> off;
    for (std::size_t i = 0; i < s.t_s.size(); ++i) {
      const auto k = static_cast<std::size_t>(std::lround((begin_s + s.t_s[i]) * c.readings_hz));
      CHECK_THAT(begin_s + s.t_s[i], WithinAbs(static_cast<double>(k) / c.readings_hz, 0.02));
      off.push_back(std::abs(s.v_mps[i] - readings.fixes.at(k).speed_mps));
    }
    CHECK(*std::max_element(off.begin(), off.end()) < 0.06);
  }
}

TEST_CASE("rows on curves between readings, or run on from the last one, are no readings", "[speed]") {
  struct Case {
    Made made;
    double readings_hz;
    double first_s;
    const char* told;
  };
  for (const Case c : {Case{Made::cubic, 1.0, 0.0, "lie on curves between readings 1 s apart"},
                       Case{Made::cubic, 1.0, 0.04, "lie on curves between readings 1 s apart"},
                       Case{Made::run_on, 1.0, 0.0, "run on in straight lines from readings 1 s apart"},
                       Case{Made::run_on, 2.0, 0.03, "run on in straight lines from readings 0.5 s apart"},
                       Case{Made::line, 1.0, 0.0, "lie on straight lines between readings 1 s apart"}}) {
    CAPTURE(c.told, c.first_s);
    const Log readings = logged_at(c.readings_hz);
    const SpeedSeries series = speed_series(made_up(readings, c.made, c.first_s));
    const auto note = std::find_if(series.notes.begin(), series.notes.end(),
                                   [](const Note& n) { return n.code == "interpolated"; });
    REQUIRE(note != series.notes.end());
    CHECK_THAT(note->text, Catch::Matchers::Contains(c.told));
    CHECK_THAT(series.receiver.rate_hz, WithinAbs(c.readings_hz, 1e-3));
    REQUIRE(series.stretches.size() == 1);
    const Stretch& s = series.stretches.front();
    const double begin_s = seconds_between(readings.fixes.front().time, s.start);
    for (std::size_t i = 2; i + 2 < s.t_s.size(); ++i) {
      const double at = (begin_s + s.t_s[i]) * c.readings_hz;
      const auto k = static_cast<std::size_t>(std::lround(at - c.first_s * c.readings_hz));
      CAPTURE(i);
      CHECK_THAT(at, WithinAbs(static_cast<double>(k), 0.08));
      // A row after its reading shows what the line has made of it since.
      CHECK_THAT(s.v_mps[i], WithinAbs(readings.fixes.at(k).speed_mps, 0.05 + 5.0 * c.first_s));
    }
  }
}

TEST_CASE("ordinary logs have no drawn lines", "[speed]") {
  for (const double rate_hz : {5.0, 10.0, 25.0}) {
    for (const double noise_mps : {0.0, 0.003, 0.02, 0.1}) {
      for (const double step_mps : {0.0, 0.01, 0.1, mps_per_kmh}) {
        CAPTURE(rate_hz, noise_mps, step_mps);
        sim::ReceiverModel model = sim::logger(rate_hz, noise_mps);
        model.resolution_mps = step_mps;
        CHECK_FALSE(has_note(speed_series(logged(model, 42)).notes, "interpolated"));
      }
    }
  }
}

TEST_CASE("repeated readings, and a constant speed in coarse steps, are no lines", "[speed]") {
  Log log = logged_at(10.0);
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    log.fixes[i].speed_mps = log.fixes[i - i % 10].speed_mps;
  }
  CHECK_FALSE(has_note(speed_series(log).notes, "interpolated"));
  for (Fix& fix : log.fixes) {
    fix.speed_mps = 12.0 + (fix.time.unix_us % 7 == 0 ? mps_per_kmh : 0.0);
  }
  CHECK_FALSE(has_note(speed_series(log).notes, "interpolated"));
}

TEST_CASE("no real log has drawn lines or repeats its rows", "[speed][reallog]") {
  const auto folder = real_logs();
  if (!folder) {
    return;
  }
  int logs = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(*folder)) {
    if (!entry.is_regular_file() || !looks_like_log(entry.path().string())) {
      continue;
    }
    CAPTURE(entry.path().string());
    try {
      const SpeedSeries series = speed_series(read_log(entry.path().string()));
      CHECK_FALSE(has_note(series.notes, "interpolated"));
      CHECK(series.readings == 0);
      ++logs;
    } catch (const LogError&) {
      continue;  // some have no times
    }
  }
  CHECK(logs > 0);
}
