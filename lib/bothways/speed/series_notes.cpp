#include "bothways/speed/series_notes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace bothways {

namespace {

/// "45 s", "12 min", "7 h", "1200 days"
std::string span_words(double s) {
  constexpr double s_per_min = 60.0;
  constexpr double s_per_h = 3600.0;
  constexpr double s_per_day = 86400.0;
  if (s < 5.0 * s_per_min) {
    return fmt::format("{:.0f} s", s);
  }
  if (s < 2.0 * s_per_h) {
    return fmt::format("{:.0f} min", s / s_per_min);
  }
  return s < 2.0 * s_per_day ? fmt::format("{:.0f} h", s / s_per_h)
                             : fmt::format("{:.0f} days", s / s_per_day);
}

}  // namespace

void note_gaps(const std::vector<Stretch>& stretches, std::vector<Note>& notes) {
  if (stretches.size() < 2) {
    return;
  }
  double longest_s = 0.0;
  for (std::size_t i = 1; i < stretches.size(); ++i) {
    const Instant end = shifted(stretches[i - 1].start, stretches[i - 1].t_s.back());
    longest_s = std::max(longest_s, seconds_between(end, stretches[i].start));
  }
  const std::size_t gaps = stretches.size() - 1;
  notes.push_back(
      {"gaps", fmt::format("The log has {} {}; the longest lasts {}. No run is timed across a gap.", gaps,
                           gaps == 1 ? "gap" : "gaps", span_words(longest_s))});
}

void note_jumps(const std::vector<bool>& cuts, std::vector<Note>& notes) {
  const auto jumps = std::count(cuts.begin(), cuts.end(), true);
  if (jumps > 0) {
    notes.push_back(
        {"position-jumps",
         fmt::format(
             "The position jumped, or the receiver itself called it bad, at {} place{}; no run is timed "
             "across one.",
             jumps, jumps == 1 ? "" : "s")});
  }
}

void note_clock_steps(const std::vector<bool>& cuts, std::vector<Note>& notes) {
  const auto steps = std::count(cuts.begin(), cuts.end(), true);
  if (steps > 0) {
    notes.push_back(
        {"clock-steps",
         fmt::format("The clock of the log stepped forward in motion at {} place{}: the places went "
                     "on as if no time had passed. No run is timed across one.",
                     steps, steps == 1 ? "" : "s")});
  }
}

void note_late_speeds(const Receiver& receiver, std::vector<Note>& notes) {
  if (std::any_of(receiver.smoothing.begin(), receiver.smoothing.end(),
                  [](const Smoothing& s) { return s.filter.averages(); })) {
    notes.push_back(
        {"late-speeds",
         fmt::format(
             "The speeds come {:.1f} s later than the places, as where an app shows the mean of its last "
             "readings, or stamps them late; the ± of times from rest allows for both. Speeds that are not "
             "smoothed, or a faster receiver, would tell more.",
             receiver.lag_s)});
  }
}

void note_outliers(std::size_t outliers, std::vector<Note>& notes) {
  if (outliers > 0) {
    notes.push_back({"speed-spikes", fmt::format("{} impossible speed reading{} left out.", outliers,
                                                 outliers == 1 ? " was" : "s were")});
  }
}

}  // namespace bothways
