#include "bothways/log/log.hpp"
#include "bothways/run/ride.hpp"
#include "fuzz/invariants.hpp"
#include "support/simulate/write.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

/// One ride, two bytes a fix, written in every format and read again: the same fixes and the same runs come
/// out of all. Times are of 10 ms, speeds of 0.09 knots (0.0463 m/s) and places of 5e-7 degrees (3e-5
/// minutes), which each format says exactly; what is left is that of binary fractions.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using namespace bothways;
using bothways_fuzz::demand;

constexpr std::size_t most_fixes = 400;  // work grows with it and nothing else
constexpr double speed_step_mps = 0.0463;
constexpr double place_step_deg = 5e-7;

/// A vehicle that rides north and south as the bytes say, in whole steps.
Log ride_of(std::span<const std::uint8_t> bytes) {
  Log log;
  if (bytes.empty()) {
    return log;
  }
  const std::int64_t rates[] = {100, 50, 20, 10, 4, 1, 200, 10};  // of 10 ms
  const std::int64_t step = rates[bytes[0] & 7U];
  std::int64_t t = 178'000'000'000;
  std::int64_t v = 0;
  std::int64_t north = (bytes[0] & 8U) != 0 ? 73'000'000 : -66'400'001;
  for (std::size_t i = 1; i + 1 < bytes.size() && log.fixes.size() < most_fixes; i += 2) {
    const unsigned op = bytes[i];
    const int value = static_cast<std::int8_t>(bytes[i + 1]);
    const std::int64_t dt = (op & 15U) == 15 ? 1 + value * value : step;
    v = (op & 15U) == 14 ? std::abs(25 * value) : std::clamp<std::int64_t>(v + value, 0, 2600);
    // 0.0463 m/s for 10 ms are 8.3e-3 steps of 5e-7 degrees
    north += ((op & 16U) != 0 ? -1 : 1) * std::min<std::int64_t>(v * dt / 120, 1'000'000);
    t += dt;
    Fix fix{.time = {t * 10'000}};
    fix.lat_deg = place_step_deg * static_cast<double>(north);
    fix.lon_deg = place_step_deg * static_cast<double>(36'000'000 + static_cast<std::int64_t>(op >> 5U));
    fix.ele_m = 10.0;  // the writer of GPX wants one
    fix.speed_mps = speed_step_mps * static_cast<double>(v);
    log.fixes.push_back(fix);
  }
  return log;
}

std::vector<Log> read_in_all_formats(const Log& log) {
  std::vector<Log> read;
  for (const std::string& bytes :
       {sim::to_csv(log, 4), sim::to_nmea(log, {.gga_every = 0}),
        sim::to_gpx(log, "ride", {.degree_decimals = 7, .speed_decimals = 4}),
        sim::to_gpx(log, "ride", {.speed = sim::GpxSpeed::element, .speed_decimals = 4}), sim::to_tcx(log),
        sim::to_kml(log)}) {
    read.push_back(sim::read_back(bytes));
  }
  return read;
}

void check_same(const Log& wanted, const Log& read) {
  constexpr double binary = 1e-11;  // relative to a degree or a metre per second
  demand(read.fixes.size() == wanted.fixes.size() && read.dated);
  for (std::size_t i = 0; i < wanted.fixes.size(); ++i) {
    const Fix& a = wanted.fixes[i];
    const Fix& b = read.fixes[i];
    demand(a.time == b.time);
    demand(std::abs(a.speed_mps - b.speed_mps) < binary);
    demand(std::abs(a.lat_deg - b.lat_deg) < binary && std::abs(a.lon_deg - b.lon_deg) < binary);
  }
}

std::size_t count_runs(const Log& log) {
  static const RunOptions options{.splits = parse_splits("0-10 mph, 0-20 mph, 60 ft")};
  return analyse(log, options).runs.accepted.size();
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const Log log = ride_of({data, size});
  if (log.fixes.size() < 2) {
    return 0;
  }
  const std::vector<Log> all = read_in_all_formats(log);
  for (const Log& read : all) {
    check_same(log, read);
  }
  const std::size_t runs = count_runs(all[0]);
  demand(count_runs(all[1]) == runs && count_runs(all[2]) == runs);
  return 0;
}
