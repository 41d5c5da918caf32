#include "bothways/report/explain.hpp"

#include "bothways/report/number.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <vector>

namespace bothways {

namespace {

constexpr double least_told_s = 0.03;  // a lag below it does not matter

double longest_s(const std::vector<Smoothing>& smoothing) {
  double longest = 0.0;
  for (const Smoothing& s : smoothing) {
    longest = std::max(longest, s.filter.feedthrough > 0.0 ? 0.0 : s.filter.delay_s());
  }
  return longest;
}

/// What the ends of the stops leave of the receiver's filter; nothing where it is known to have none.
std::string smoothing_sentence(const std::vector<Smoothing>& smoothing) {
  double least_s = longest_s(smoothing);
  double tracking = 0.0;
  double averaging = 0.0;
  double predicting = 0.0;
  for (const Smoothing& s : smoothing) {
    const bool low_pass = !s.filter.tracks_acceleration && s.filter.feedthrough == 0.0 && !s.filter.fades();
    least_s = low_pass ? std::min(least_s, s.filter.lag_s) : least_s;
    tracking += s.filter.tracks_acceleration ? s.weight : 0.0;
    averaging += s.filter.averages() ? s.weight : 0.0;
    predicting += s.filter.predicts() ? s.weight : 0.0;
  }
  const auto fading =
      std::find_if(smoothing.begin(), smoothing.end(), [](const Smoothing& s) { return s.filter.fades(); });
  if (longest_s(smoothing) < 0.005 && fading == smoothing.end()) {
    return "";
  }
  std::string text = " Judging by its rate and how stops end, the receiver smooths speed over " +
                     fixed(least_s, 2) + " to " + fixed(longest_s(smoothing), 2) + " s";
  if (fading != smoothing.end()) {
    text += ", or (" + fixed(100.0 * fading->weight, 0) + " %), by the places of the starts, over " +
            fixed(fading->filter.lag_s, 2) + " s at rest and ever less up to " +
            fixed(fading->filter.fades_by_mps, 1) + " m/s";
  }
  if (tracking > 0.0) {
    text += ", or (" + fixed(100.0 * tracking, 0) + " %) tracks acceleration";
  }
  if (averaging > 0.0) {
    text += ", or (" + fixed(100.0 * averaging, 0) + " %) an app writes the mean over its last readings";
  }
  if (predicting > 0.0) {
    text += ", or (" + fixed(100.0 * predicting, 0) + " %) an app runs ahead of its last readings";
  }
  return text + "; the times allow for all of these.";
}

}  // namespace

void explain_receiver(std::ostream& out, const Ride& ride, const SummaryOptions& options) {
  const Receiver& r = ride.receiver;
  std::string text = "Speed noise found in this log: " + fixed(r.white_sd_mps, 3) +
                     " m/s from fix to fix and " + fixed(r.slow_sd_mps, 3) + " m/s that drifts over " +
                     fixed(r.slow_time_s, 1) + " s (sd).";
  if (r.resolution_mps > 0.0) {
    text += " Speed is written in steps of " + fixed(r.resolution_mps, 3) + " m/s.";
  }
  if (r.zero_hold_mps > 0.0) {
    text += " Below " + fixed(r.zero_hold_mps, 2) + " m/s the receiver writes 0.";
  }
  if (std::abs(r.lag_s) > std::max(2.0 * r.lag_sd_s, least_told_s)) {
    text += " Speeds come " + fixed(std::abs(r.lag_s), 2) + " s (sd " + fixed(r.lag_sd_s, 2) + " s) " +
            (r.lag_s > 0.0 ? "later" : "earlier") + " than places.";
  }
  text += smoothing_sentence(r.smoothing);
  if (ride.source == SpeedSource::positions) {
    text += " Position noise: " + fixed(r.position_white_sd_m, 2) + " m from fix to fix and " +
            fixed(r.position_drift_sd_m, 2) + " m that drifts over " + fixed(r.position_drift_time_s, 0) +
            " s (sd).";
  }
  if (r.whole_second_stamps) {
    text += " Times were written in whole seconds and have been spread again.";
  }
  out << wrapped(text, options.width, "  ", "  ") << '\n';
}

void explain_rules(std::ostream& out, const Result& result, const SummaryOptions& options) {
  write_heading(out, "How starts are judged", options);
  const std::string lowest = lowest_mark(result.splits);
  for (const std::string& rule :
       {"A run stands still for at least 1 s (its speed is within noise of zero), then gains speed without a "
        "lift of the throttle" +
            (lowest.empty() ? "." : ", at least to " + lowest + ", the lowest mark asked for."),
        std::string(
            "A gear change is no lift. A run is timed as far as it goes: a mark that it does not reach has "
            "no time."),
        std::string(
            "Left out are starts from a roll, starts let off before the first mark, gentle starts (much "
            "less pull than the best start of the log, as in traffic; --include-gentle times them), "
            "starts across a gap in the log, and starts that no tyre could make: their readings are "
            "wrong.")}) {
    out << wrapped(rule, options.width, "  ", "  ") << '\n';
  }
}

void explain_splits(std::ostream& out, const Result& result, const SummaryOptions& options) {
  Table table{"splits",
              {{"run", "", ColumnKind::number},
               {"split", ""},
               {"time", "s", ColumnKind::number, "time"},
               {"sd", "s", ColumnKind::number, "sd"},
               {"lo95", "s", ColumnKind::number, "95 % from"},
               {"hi95", "s", ColumnKind::number, "to"},
               {"movement", "s", ColumnKind::estimate, "clock from first movement"}},
              {}};
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      for (const Split& split : run.splits) {
        if (!is_printable(chosen(split, result.clock))) {
          continue;
        }
        const Estimate e = rounded(chosen(split, result.clock));
        table.rows.push_back({Number{static_cast<double>(run.id), 0}, split.spec.name,
                              Number{e.value, machine_decimals}, Number{e.sd, machine_decimals},
                              Number{e.lo95, machine_decimals}, Number{e.hi95, machine_decimals},
                              split.spec.from_rest() ? Cell(split.movement) : Cell()});
      }
    }
  }
  write_heading(out, "Every split in seconds, with its sd and interval", options);
  write_text(out, table, {.width = options.width});
}

}  // namespace bothways
