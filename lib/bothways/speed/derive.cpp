#include "bothways/speed/derive.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/speed/accuracy.hpp"
#include "bothways/speed/burst_stamps.hpp"
#include "bothways/speed/clock_steps.hpp"
#include "bothways/speed/departures.hpp"
#include "bothways/speed/interpolation.hpp"
#include "bothways/speed/known_lag.hpp"
#include "bothways/speed/lag.hpp"
#include "bothways/speed/launch_lag.hpp"
#include "bothways/speed/moved_only.hpp"
#include "bothways/speed/noise.hpp"
#include "bothways/speed/outliers.hpp"
#include "bothways/speed/position_jumps.hpp"
#include "bothways/speed/positions.hpp"
#include "bothways/speed/repetition.hpp"
#include "bothways/speed/resolution.hpp"
#include "bothways/speed/rest.hpp"
#include "bothways/speed/series_notes.hpp"
#include "bothways/speed/smoothing.hpp"
#include "bothways/speed/unreachable.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

namespace bothways {

namespace {

constexpr double longest_lag_s =
    1.5;  // either way; of smoothing inside a receiver, common practice, no source

bool has_position(const Fix& fix) {
  return is_known(fix.lat_deg) && is_known(fix.lon_deg);
}

double median_step_s(const std::vector<const Fix*>& fixes) {
  std::vector<double> steps;
  steps.reserve(fixes.size());
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    steps.push_back(seconds_between(fixes[i - 1]->time, fixes[i]->time));
  }
  return numeric::quantile(std::move(steps), 0.5);
}

LatLon middle_of(const std::vector<const Fix*>& fixes) {
  std::vector<double> lat;
  std::vector<double> lon;
  lat.reserve(fixes.size());
  lon.reserve(fixes.size());
  for (const Fix* fix : fixes) {
    if (has_position(*fix)) {
      lat.push_back(fix->lat_deg);
      lon.push_back(fix->lon_deg);
    }
  }
  if (lat.empty()) {
    return {};
  }
  const auto mid = static_cast<std::ptrdiff_t>(lat.size() / 2);
  std::nth_element(lat.begin(), lat.begin() + mid, lat.end());
  std::nth_element(lon.begin(), lon.begin() + mid, lon.end());
  return {lat[static_cast<std::size_t>(mid)], lon[static_cast<std::size_t>(mid)]};
}

void append(Stretch& stretch, const Fix& fix, const LocalPlane& plane) {
  stretch.t_s.push_back(seconds_between(stretch.start, fix.time));
  stretch.v_mps.push_back(fix.speed_mps);
  stretch.sd_mps.push_back(1.0);
  PlanePoint at{unknown, unknown};
  if (has_position(fix)) {
    at = plane.to_plane({fix.lat_deg, fix.lon_deg});
  }
  stretch.east_m.push_back(at.east_m);
  stretch.north_m.push_back(at.north_m);
  stretch.ele_m.push_back(fix.ele_m);
  stretch.validity.push_back(Validity::valid);
}

std::vector<Stretch> cut_at_gaps(const std::vector<const Fix*>& fixes, const std::vector<bool>& cuts,
                                 double gap_s, const LocalPlane& plane) {
  std::vector<Stretch> stretches;
  std::size_t begin = 0;
  for (std::size_t i = 1; i <= fixes.size(); ++i) {
    const bool cut = !cuts.empty() && i < fixes.size() && cuts[i];
    if (i < fixes.size() && !cut && seconds_between(fixes[i - 1]->time, fixes[i]->time) <= gap_s) {
      continue;
    }
    if (i - begin >= 2) {
      Stretch stretch;
      stretch.start = fixes[begin]->time;
      for (auto* column : {&stretch.t_s, &stretch.v_mps, &stretch.sd_mps, &stretch.east_m, &stretch.north_m,
                           &stretch.ele_m}) {
        column->reserve(i - begin);
      }
      for (std::size_t k = begin; k < i; ++k) {
        append(stretch, *fixes[k], plane);
      }
      stretches.push_back(std::move(stretch));
    }
    begin = i;
  }
  return stretches;
}

std::vector<const Fix*> fixes_with(const Log& log, bool speed) {
  std::vector<const Fix*> out;
  out.reserve(log.fixes.size());
  for (const Fix& fix : log.fixes) {
    if (speed ? is_known(fix.speed_mps) : has_position(fix)) {
      out.push_back(&fix);
    }
  }
  return out;
}

double resolution_of_speeds(const std::vector<const Fix*>& fixes) {
  std::vector<double> speeds;
  speeds.reserve(fixes.size());
  for (const Fix* fix : fixes) {
    speeds.push_back(fix->speed_mps);
  }
  return resolution_of(speeds);
}

/// Where rows repeat readings or are interpolated, the readings take their place: `kept` holds them.
void take_out_rows_between(std::vector<const Fix*>& fixes, std::vector<Fix>& kept, SpeedSeries& series) {
  const bool reported = series.source == SpeedSource::reported;
  const double step_mps = reported ? resolution_of_speeds(fixes) : 0.0;
  const std::optional<Repetition> repetition = repetition_of(fixes, step_mps);
  std::optional<Upsampling> upsampling;
  if (!repetition && reported) {
    upsampling = upsampling_of(fixes, step_mps);
  }
  if (!repetition && !upsampling) {
    return;
  }
  kept = repetition ? first_showings(fixes, *repetition) : readings_of(fixes, *upsampling, step_mps);
  fixes.clear();
  for (const Fix& fix : kept) {
    fixes.push_back(&fix);
  }
  series.readings = kept.size();
  if (repetition) {
    series.notes.push_back(
        {"repeated-rows",
         fmt::format("The rows repeat readings {:.2g} s apart, place and speed unchanged; only the first row "
                     "of each reading counts. To get more readings, set the receiver to a faster rate.",
                     repetition->period_s)});
    return;
  }
  const char* made = upsampling->extrapolated  ? "run on in straight lines from"
                     : upsampling->degree == 1 ? "lie on straight lines between"
                                               : "lie on curves between";
  series.notes.push_back(
      {"interpolated",
       fmt::format("The speeds {} readings {:g} s apart; only these readings count, not the rows "
                   "that the recorder made up between them.",
                   made, upsampling->period_s)});
}

/// The receiver's noise for every reading, more where the receiver says that it is worse than usual.
void set_reading_sds(SpeedSeries& series, const std::vector<const Fix*>& fixes) {
  const double sd = total_noise_mps(series.receiver);
  const std::vector<double> worse = worse_than_usual(fixes);
  std::size_t k = 0;
  for (Stretch& stretch : series.stretches) {
    for (std::size_t i = 0; i < stretch.t_s.size(); ++i) {
      const Instant at = shifted(stretch.start, stretch.t_s[i]);
      while (k + 1 < fixes.size() && fixes[k]->time < at) {
        ++k;
      }
      stretch.sd_mps[i] = sd * worse[k];
    }
  }
}

void note_moved_only(bool moved_only, SpeedSeries& series) {
  series.moved_only = moved_only;
  if (moved_only) {
    series.notes.push_back(
        {"moved-only",
         "The recorder wrote points only when the vehicle had moved, so neither its rests nor the starts "
         "from them are in the log, and no start can be timed. Switch off auto-pause, or recording by "
         "distance; let it write every second or faster, also at rest, with the speed."});
  }
}

/// Of reported speeds: outliers that show without the receiver's noise, the receiver, and each sample's sd.
void estimate_reported(SpeedSeries& series, const Log& log, const std::vector<const Fix*>& fixes,
                       double rate_hz) {
  for (Stretch& stretch : series.stretches) {
    series.outliers += mark_spikes(stretch);  // first: a single sample is no excursion
    series.outliers += mark_excursions(stretch);
  }
  series.receiver = estimate_receiver(series.stretches, log, rate_hz);
  const Lag lag = estimate_lag(series);
  series.receiver.lag_s = std::clamp(lag.lag_s, -longest_lag_s, longest_lag_s);
  series.receiver.lag_sd_s = lag.sd_s;
  const double rest_mps = rest_threshold_mps(series.receiver, series.source);
  series.receiver.smoothing =
      smoothing_posterior(brake_ends(series.stretches, series.receiver, rest_mps), series.receiver);
  if (rate_hz >= phone_speeds_below_hz) {  // a slower log shows too little of a launch
    series.receiver.smoothing =
        with_launch_lag(std::move(series.receiver.smoothing),
                        estimate_launch_lag(departures(series.stretches, series.receiver, rest_mps)));
  }
  note_late_speeds(series.receiver, series.notes);
  set_reading_sds(series, fixes);
}

}  // namespace

SpeedSeries speed_series(const Log& log, const SpeedOptions& options) {
  if (!(options.gap_s >= 0.0)) {
    throw std::invalid_argument("gap_s must be >= 0");
  }
  SpeedSeries series;
  std::vector<const Fix*> fixes = fixes_with(log, true);
  if (fixes.size() * 2 < log.fixes.size()) {
    series.source = SpeedSource::positions;
    fixes = fixes_with(log, false);
  }
  std::vector<Fix> kept;
  take_out_rows_between(fixes, kept, series);
  if (fixes.size() < 2) {
    return series;
  }
  const double step_s = std::max(median_step_s(fixes), 1e-3);
  const double gap_s = options.gap_s > 0.0 ? options.gap_s : longest_silence_s(step_s);
  series.plane = LocalPlane(middle_of(fixes));
  std::vector<bool> cuts;
  if (series.source == SpeedSource::positions) {
    cuts = take_out_jumps(fixes, series.plane, step_s);
    note_jumps(cuts, series.notes);
  } else {
    cuts = clock_steps(fixes, series.plane, step_s);
    note_clock_steps(cuts, series.notes);
  }
  series.stretches = cut_at_gaps(fixes, cuts, gap_s, series.plane);
  const std::optional<Note> bursts = burst_stamps(fixes, series.plane);
  if (bursts) {  // what else there would be to tell comes from it
    series.notes.push_back(*bursts);
  } else {
    note_gaps(series.stretches, series.notes);
  }
  note_moved_only(!bursts && is_moved_only(fixes, gap_s), series);
  if (series.source == SpeedSource::positions) {
    speed_from_positions(series, 1.0 / step_s);
    series.notes.push_back(
        {"speed-from-positions",
         "The log gives no speed of its own; it was worked out from the positions, which is less sure."});
  } else {
    estimate_reported(series, log, fixes, 1.0 / step_s);
  }
  fixes = {};  // what follows needs memory of its own
  for (Stretch& stretch : series.stretches) {
    series.outliers += mark_unreachable(stretch, series.receiver);
  }
  if (!bursts) {
    note_outliers(series.outliers, series.notes);
  }
  mark_rest(series);
  series.receiver.whole_second_stamps = log.whole_second_stamps;
  return series;
}

}  // namespace bothways
