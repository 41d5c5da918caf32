#include "bothways/log/dates.hpp"

#include <fmt/format.h>

namespace bothways {

namespace {

constexpr double year_s = 365.25 * 86'400.0;
constexpr Instant no_clock_before{631'152'000'000'000};    // 1990-01-01: receivers start at 1980-01-06
constexpr Instant rollover_before{1'262'304'000'000'000};  // 2010-01-01; the week counter of GPS has ten bits

std::string day_text(Instant time) {
  return format_iso8601(time).substr(0, 10);
}

}  // namespace

void note_dates(Draft& draft) {
  if (draft.fixes.empty()) {
    return;
  }
  Tally jumps;
  const bool spans_a_year = seconds_between(draft.fixes.front().time, draft.fixes.back().time) > year_s;
  for (std::size_t i = 1; spans_a_year && i < draft.fixes.size(); ++i) {
    if (seconds_between(draft.fixes[i - 1].time, draft.fixes[i].time) > year_s) {
      jumps.add(draft.lines[i]);
    }
  }
  add_note(
      draft.notes, "date-jump", jumps,
      "date lies more than a year after the one before; a receiver that did not know the date does that",
      "dates lie more than a year after the one before; a receiver that did not know the date does that");
  const Instant last = draft.fixes.back().time;
  if (last < no_clock_before) {
    draft.notes.push_back({"clock-not-set",
                           fmt::format("the log is dated {}: the logger did not know the date; nothing was "
                                       "changed, times within the log hold",
                                       day_text(last)),
                           draft.lines.back()});
  } else if (last < rollover_before) {
    draft.notes.push_back(
        {"week-rollover",
         fmt::format(
             "the log is dated {}; if it is newer, the receiver's week counter has started again and the "
             "date may be 1024 weeks too early; nothing was changed, times within the log hold",
             day_text(last)),
         draft.lines.back()});
  }
}

}  // namespace bothways
