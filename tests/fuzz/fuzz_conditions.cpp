#include "bothways/core/conditions.hpp"
#include "fuzz/invariants.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <stdexcept>
#include <string_view>

/// Lines of `key = value`, and each whole line as the value of every key.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using bothways::Conditions;
using bothways_fuzz::demand;

void check_range(const std::optional<double>& value, double low, double high) {
  demand(!value || (*value >= low && *value <= high));
}

/// What Conditions promises of its figures.
void check(const Conditions& conditions) {
  check_range(conditions.rider_mass_kg, 20.0, 300.0);
  check_range(conditions.total_mass_kg, 20.0, 5000.0);
  check_range(conditions.temperature_degc, -60.0, 60.0);
  check_range(conditions.pressure_pa, 50e3, 110e3);
  check_range(conditions.sea_level_pressure_pa, 90e3, 110e3);
  check_range(conditions.station_height_m, -450.0, 5500.0);
  check_range(conditions.humidity, 0.0, 1.0);
  if (conditions.wind_mps) {
    demand(conditions.wind_mps->lo >= 0.0 && conditions.wind_mps->lo <= conditions.wind_mps->hi &&
           conditions.wind_mps->hi <= 40.0);
  }
  if (const auto density = bothways::air_density_of(conditions)) {
    demand(std::isfinite(density->value) && density->value > 0.3 && density->value < 2.5);
    demand(density->sd > 0.0 && density->lo95 < density->value && density->value < density->hi95);
  }
}

void set(Conditions& conditions, std::string_view key, std::string_view value) {
  try {
    bothways::set_condition(conditions, key, value);
  } catch (const std::invalid_argument& error) {
    demand(*error.what() != '\0' && std::strlen(error.what()) < 2000);
  }
  check(conditions);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr std::size_t longest = 4096;  // a conditions file has a dozen lines
  std::string_view text(reinterpret_cast<const char*>(data), std::min(size, longest));
  Conditions written;
  while (!text.empty()) {
    const std::string_view line = text.substr(0, text.find('\n'));
    text.remove_prefix(std::min(line.size() + 1, text.size()));
    const auto equals = line.find('=');
    if (equals != std::string_view::npos) {
      set(written, line.substr(0, equals), line.substr(equals + 1));
      continue;
    }
    for (const std::string_view key : bothways::condition_keys()) {
      Conditions alone;
      set(alone, key, line);
    }
  }
  return 0;
}
