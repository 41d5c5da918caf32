#include "fuzz/invariants.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <string>

namespace bothways_fuzz {

void demand(bool promise) {
  if (!promise) {
    std::abort();
  }
}

namespace {

using bothways::Fix;
using bothways::is_known;

void within(double value, double low, double high) {
  demand(!is_known(value) || (value >= low && value <= high));
}

void check(const bothways::Log& log, const bothways::ReadOptions& limits) {
  demand(!log.fixes.empty() && log.fixes.size() <= limits.fixes);
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    demand(i == 0 || log.fixes[i - 1].time < fix.time);
    demand(is_known(fix.lat_deg) == is_known(fix.lon_deg));
    demand(is_known(fix.lat_deg) || is_known(fix.speed_mps));
    within(fix.lat_deg, -90.0, 90.0);
    within(fix.lon_deg, -180.0, 180.0);
    within(fix.speed_mps, 0.0, 1000.0);
    within(fix.course_deg, 0.0, 360.0);
    within(fix.ele_m, -1e6, 1e6);
    for (const double positive : {fix.speed_sd_mps, fix.position_sd_m, fix.hdop}) {
      demand(!is_known(positive) || (positive > 0.0 && std::isfinite(positive)));
    }
  }
  for (const bothways::Channel& channel : log.channels) {
    demand(channel.value.size() == log.fixes.size());
    demand(std::none_of(channel.value.begin(), channel.value.end(), [](double v) { return std::isinf(v); }));
  }
  for (const bothways::Note& note : log.notes) {
    demand(!note.code.empty() && !note.text.empty() && note.text.size() < 1000);
  }
}

}  // namespace

void check_reading(const char* prefix, std::span<const std::uint8_t> bytes) {
  constexpr bothways::ReadOptions limits{.fixes = 5000, .line_bytes = 1000, .field_bytes = 64};
  std::string text = prefix;
  text.append(reinterpret_cast<const char*>(bytes.data()), bytes.size());
  std::size_t used = 0;
  const bothways::ByteSource source = [&](std::span<char> into) {
    const std::size_t count = std::min({into.size(), text.size() - used, std::size_t{4096}});
    std::memcpy(into.data(), text.data() + used, count);
    used += count;
    return count;
  };
  try {
    check(bothways::read_log(source, "fuzz", limits), limits);
  } catch (const bothways::LogError& error) {
    demand(std::strlen(error.what()) < 2000);
  }
}

}  // namespace bothways_fuzz
