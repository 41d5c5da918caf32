#include "bothways/log/read.hpp"
#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "bothways/speed/series.hpp"

#include <benchmark/benchmark.h>

#include <string>

namespace {

/// All that is done after reading: the speed series of a fixture, and its runs found and timed. `s_a_run` is
/// what one accepted run costs, the rejected starts in it.
void launch_fit(benchmark::State& state, const char* name) {
  const bothways::Log log = bothways::read_log(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/" + name);
  std::size_t runs = 0;
  std::size_t starts = 0;
  for ([[maybe_unused]] auto round : state) {
    const bothways::SpeedSeries series = bothways::speed_series(log);
    const bothways::Runs found = bothways::find_runs(series);
    runs = found.accepted.size();
    starts = runs + found.rejected.size();
    benchmark::DoNotOptimize(runs);
  }
  state.counters["runs"] = static_cast<double>(runs);
  state.counters["starts"] = static_cast<double>(starts);
  // CPU seconds a run: the inverse of runs a second.
  state.counters["s_a_run"] =
      benchmark::Counter(static_cast<double>(runs) * static_cast<double>(state.iterations()),
                         benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

BENCHMARK_CAPTURE(launch_fit, town_scooter_10hz, "town-scooter/ride.nmea")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(launch_fit, phone_1hz, "phone-1hz/ride.gpx")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(launch_fit, geared_25hz, "geared-25hz/ride.nmea.gz")->Unit(benchmark::kMillisecond);

}  // namespace
