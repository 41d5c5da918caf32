#include "bothways/log/read.hpp"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cstring>
#include <fstream>
#include <iterator>
#include <string>

namespace {

std::string contents(const std::string& name) {
  std::ifstream file(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// One fixture read from memory; counts its bytes, packed if it is packed.
void reading(benchmark::State& state, const char* name) {
  const std::string bytes = contents(name);
  std::size_t fixes = 0;
  for ([[maybe_unused]] auto round : state) {
    std::size_t used = 0;
    const bothways::ByteSource source = [&](std::span<char> into) {
      const std::size_t count = std::min(into.size(), bytes.size() - used);
      std::memcpy(into.data(), bytes.data() + used, count);
      used += count;
      return count;
    };
    fixes = bothways::read_log(source, name).fixes.size();
    benchmark::DoNotOptimize(fixes);
  }
  const auto rounds = static_cast<std::int64_t>(state.iterations());
  state.SetBytesProcessed(rounds * static_cast<std::int64_t>(bytes.size()));
  const auto lines = static_cast<double>(std::count(bytes.begin(), bytes.end(), '\n'));
  state.counters["s_a_line"] = benchmark::Counter(static_cast<double>(rounds) * lines,
                                                  benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
  state.SetItemsProcessed(rounds * static_cast<std::int64_t>(fixes));
}

BENCHMARK_CAPTURE(reading, gpx_1hz, "phone-1hz/ride.gpx");
BENCHMARK_CAPTURE(reading, nmea_10hz, "town-scooter/ride.nmea");
BENCHMARK_CAPTURE(reading, gpx_10hz_gzip, "slope-2-percent/ride.gpx.gz");

}  // namespace
