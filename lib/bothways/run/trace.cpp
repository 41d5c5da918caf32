#include "bothways/run/trace.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr std::int64_t step_us = static_cast<std::int64_t>(trace_step_s * 1e6);

std::int64_t step_at_or_after(Instant time) {
  const std::int64_t whole = time.unix_us / step_us;
  return whole + (time.unix_us > whole * step_us ? 1 : 0);
}

std::int32_t scaled(double deg) {
  return static_cast<std::int32_t>(std::lround(deg * 1e7));
}

/// Between two fixes, as straight as the crow flies; over the date line the nearer one stands for both.
TracePoint between(const Fix& a, const Fix& b, std::int64_t step) {
  TracePoint point{.step = step};
  if (!is_known(a.lat_deg) || !is_known(b.lat_deg)) {
    return point;
  }
  const double span_s = seconds_between(a.time, b.time);
  const double from_s = seconds_between(a.time, Instant{step * step_us});
  const double share = span_s > 0.0 ? from_s / span_s : 0.0;
  const bool wraps = std::abs(b.lon_deg - a.lon_deg) > 180.0;
  const double lon_deg = wraps ? (share < 0.5 ? a : b).lon_deg : a.lon_deg + share * (b.lon_deg - a.lon_deg);
  point.lat_1e7 = scaled(a.lat_deg + share * (b.lat_deg - a.lat_deg));
  point.lon_1e7 = scaled(lon_deg);
  return point;
}

double median_step_s(const std::vector<Fix>& fixes) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    steps.push_back(seconds_between(fixes[i - 1].time, fixes[i].time));
  }
  return numeric::quantile(std::move(steps), 0.5);
}

}  // namespace

Trace trace_of(const Log& log, SpeedSource source) {
  Trace trace{.path = log.path,
              .format = log.format,
              .dated = log.dated,
              .source = source,
              .fixes = log.fixes.size()};
  trace.step_s = median_step_s(log.fixes);
  for (std::size_t i = 1; i < log.fixes.size(); ++i) {
    const Fix& a = log.fixes[i - 1];
    const Fix& b = log.fixes[i];
    if (seconds_between(a.time, b.time) > 2.0 * trace_step_s) {
      continue;
    }
    std::int64_t step = step_at_or_after(a.time);
    if (!trace.points.empty() && trace.points.back().step == step) {
      ++step;  // a fix on the step itself, seen from before
    }
    for (; step * step_us <= b.time.unix_us; ++step) {
      trace.points.push_back(between(a, b, step));
    }
  }
  return trace;
}

bool covers(const Trace& trace, Instant time) {
  const std::int64_t step = step_at_or_after(time);
  const auto at = std::lower_bound(trace.points.begin(), trace.points.end(), step - 2,
                                   [](const TracePoint& point, std::int64_t x) { return point.step < x; });
  return at != trace.points.end() && at->step <= step + 1;
}

}  // namespace bothways
