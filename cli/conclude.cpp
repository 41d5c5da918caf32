// What is said at the end of a call, and its exit code.
#include "bothways/core/units.hpp"
#include "bothways/core/usual_splits.hpp"
#include "bothways/report/number.hpp"
#include "bothways/run/ride.hpp"
#include "cli/pipeline.hpp"
#include "cli/say.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

namespace bothways::cli {

namespace {

void tell(const Streams& streams, const std::string& text) {
  say(streams, "bothways", text);
}

/// The lowest speed at which a split asked for ends, m/s; 0 if none does.
double lowest_speed_mps(const std::vector<SplitSpec>& splits) {
  double lowest_mps = 0.0;
  for (const SplitSpec& split : splits) {
    const auto* to = std::get_if<Speed>(&split.to);
    if (to != nullptr && (lowest_mps <= 0.0 || to->mps() < lowest_mps)) {
      lowest_mps = to->mps();
    }
  }
  return lowest_mps;
}

/// Splits that the starts of these logs reach, where the ones asked for are too high; else nothing: that
/// starts reach what was asked is no reason to ask for other marks.
std::string splits_within_reach(const Result& result) {
  std::vector<const Ride*> rides;
  for (const Ride& ride : result.rides) {
    rides.push_back(&ride);
  }
  const double reach = reach_mps(rides);
  if (reach >= lowest_speed_mps(result.splits)) {  // distances alone are not reached sooner by lower speeds
    return "";
  }
  std::string text;
  for (const SplitSpec& spec : usual_splits(reach, result.metric)) {
    const auto* to = std::get_if<Speed>(&spec.to);
    if (to == nullptr || to->mps() > reach || result.marks_chosen) {
      return "";
    }
    text += (text.empty() ? "" : ", ") + spec.name;
  }
  return text;
}

/// Which logs hold no start because nothing was written at rest, and the remedy; empty for none.
std::string moved_only_words(const std::vector<Ride>& rides) {
  const auto moved_only = [](const Ride& ride) { return ride.moved_only; };
  const auto first = std::find_if(rides.begin(), rides.end(), moved_only);
  if (first == rides.end()) {
    return "";
  }
  const auto count = std::count_if(rides.begin(), rides.end(), moved_only);
  const std::string which = rides.size() == 1 ? "the log"
                            : count == 1      ? first->path
                                              : std::to_string(count) + " logs";
  return "; nothing was written at rest in " + which +
         ", so no start is there: record by time, every second or faster, without auto-pause";
}

std::string nearest_miss(const Analysis& analysis) {
  const Result& result = analysis.result;
  std::size_t left_out = 0;
  for (const Ride& ride : result.rides) {
    left_out += ride.runs.rejected.size();
  }
  const std::string lowest = lowest_mark(result.splits);
  std::string text = "no run found; a run stands still and then gains speed without letting off";
  if (!lowest.empty()) {
    text += ", to " + lowest + " at least";
  }
  const double factor = result.metric ? mps_per_kmh : mps_per_mph;
  text +=
      result.rides.size() == 1 ? "; the highest speed in the log is " : "; the highest speed in the logs is ";
  text += fixed(analysis.top_speed_mps / factor, 1) + (result.metric ? " km/h" : " mph");
  if (left_out > 0) {
    text +=
        ", and " + std::to_string(left_out) + (left_out == 1 ? " start was" : " starts were") + " left out";
  }
  text += moved_only_words(result.rides);
  if (const std::string offer = splits_within_reach(result); !offer.empty()) {
    text += "; the starts reach lower marks: try --splits \"" + offer + "\"";
  }
  return text;
}

}  // namespace

Exit conclude_reading(const Inputs& inputs, const Troubles& troubles, std::size_t read,
                      const Streams& streams) {
  for (const auto& list : {inputs.troubles, inputs.unreadable, troubles.failed, troubles.outside}) {
    for (const std::string& trouble : list) {
      tell(streams, trouble);
    }
  }
  if (!troubles.failed.empty() || !inputs.unreadable.empty()) {
    return Exit::failed;
  }
  return read == 0 ? Exit::nothing_found : Exit::ok;
}

Exit conclude(const Inputs& inputs, const Analysis& analysis, const Streams& streams) {
  const Exit reading = conclude_reading(inputs, analysis.troubles, analysis.read, streams);
  if (analysis.result.rides.empty() || count_runs(analysis.result.rides) > 0) {
    return reading;
  }
  tell(streams, nearest_miss(analysis));
  return reading == Exit::ok ? Exit::nothing_found : reading;
}

}  // namespace bothways::cli
