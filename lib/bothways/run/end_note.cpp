#include "bothways/run/end_note.hpp"

#include "bothways/core/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace bothways {

namespace {

// Common practice, no source.
constexpr double looked_at_s = 30.0;
constexpr double faster_mps = 1.0;
constexpr double faster_sds = 3.0;  // of the noise
constexpr double braked_share = 0.5;

/// Highest speed after a run's end, before the vehicle stops or slows down to half.
double top_after(const Stretch& s, const StandingStart& start) {
  double top = start.top_mps;
  for (std::size_t i = start.end + 1; i < s.t_s.size() && s.t_s[i] - s.t_s[start.end] < looked_at_s; ++i) {
    if (s.at_rest[i] != 0 || s.smooth_mps[i] < braked_share * start.top_mps) {
      break;
    }
    top = std::max(top, s.smooth_mps[i]);
  }
  return top;
}

}  // namespace

std::string speed_text(double v_mps, bool metric) {
  return metric ? fmt::format("{:.0f} km/h", v_mps / mps_per_kmh)
                : fmt::format("{:.0f} mph", v_mps / mps_per_mph);
}

std::optional<Note> end_note(const SpeedSeries& series, const StandingStart& start, const Run& run,
                             const std::vector<SplitSpec>& asked, bool metric) {
  std::string missing;
  std::size_t count = 0;
  for (const SplitSpec& spec : asked) {
    if (find_split(run, spec.name) == nullptr) {
      missing += (missing.empty() ? "" : ", ") + spec.name;
      ++count;
    }
  }
  if (count == 0) {
    return std::nullopt;
  }
  const char* have = count == 1 ? "has" : "have";
  const std::string at = speed_text(start.top_mps, metric);
  if (start.ended_by == StandingStart::End::series_end) {
    return Note{"ends-early", fmt::format("It ends at {}, where the log stops or has a gap: {} {} no time.",
                                          at, missing, have)};
  }
  const double top_mps = top_after(series.stretches[start.stretch], start);
  if (top_mps < start.top_mps + faster_mps + faster_sds * total_noise_mps(series.receiver)) {
    return std::nullopt;
  }
  return Note{"ends-early", fmt::format("It ends at {}, where the speed fell or stood still: {} {} no time, "
                                        "though the vehicle went on to {}.",
                                        at, missing, have, speed_text(top_mps, metric))};
}

}  // namespace bothways
