// The starts that are no runs, each with its reason.
#include "bothways/report/escape.hpp"
#include "bothways/report/explain.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/summary_logs.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t most_alike = 3;  // more left-out starts of one kind are told in one line

std::string place_words(const LatLon& place) {
  if (!std::isfinite(place.lat_deg) || !std::isfinite(place.lon_deg)) {
    return "";
  }
  return " at " + fixed(place.lat_deg, 5) + ", " + fixed(place.lon_deg, 5);
}

std::string group_words(const std::vector<const Rejected*>& starts, bool dated,
                        const SummaryOptions& options) {
  const bool equal = std::all_of(starts.begin(), starts.end(),
                                 [&](const Rejected* start) { return start->text == starts.front()->text; });
  const std::string place = place_words(starts.front()->place);
  return std::to_string(starts.size()) + " starts, " + told_time(starts.front()->time, dated, options) +
         " to " + told_time(starts.back()->time, dated, options) +
         (equal ? ", the first" : ", for example the first") + (equal || place.empty() ? "" : ",") + place +
         ": " + starts.front()->text;
}

void write_left_out_of(std::ostream& out, const Ride& ride, const SummaryOptions& options) {
  std::map<std::string, std::vector<const Rejected*>> by_code;
  for (const Rejected& start : ride.runs.rejected) {
    by_code[start.code].push_back(&start);
  }
  for (const Rejected& start : ride.runs.rejected) {
    const auto& group = by_code[start.code];
    std::string text;
    if (group.size() <= most_alike || options.explain) {
      text = told_time(start.time, ride.dated, options) + place_words(start.place) + ": " + start.text;
    } else if (group.front() == &start) {
      text = group_words(group, ride.dated, options);
    } else {
      continue;
    }
    out << wrapped(escaped(text), options.width, "  ", "    ") << '\n';
  }
}

/// Many logs: one line for each reason.
void write_left_out_by_reason(std::ostream& out, const Result& result, const SummaryOptions& options) {
  struct Reason {
    std::size_t count = 0;
    std::string first;
  };
  std::vector<std::pair<std::string, Reason>> reasons;
  for (const Ride& ride : result.rides) {
    for (const Rejected& start : ride.runs.rejected) {
      auto found =
          std::find_if(reasons.begin(), reasons.end(), [&](const auto& r) { return r.first == start.code; });
      if (found == reasons.end()) {
        const std::string first =
            ride.path + " at " + told_time(start.time, ride.dated, options) + ": " + start.text;
        found = reasons.insert(reasons.end(), {start.code, {0, first}});
      }
      ++found->second.count;
    }
  }
  for (const auto& [code, reason] : reasons) {
    const std::string text = count_of(reason.count, "start", "starts") +
                             (reason.count == 1 ? ": " : ", the first: ") + reason.first;
    out << wrapped(escaped(text), options.width, "  ", "    ") << '\n';
  }
  out << "--explain lists each of them.\n";
}

}  // namespace

void write_left_out(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::size_t count = 0;
  for (const Ride& ride : result.rides) {
    count += ride.runs.rejected.size();
  }
  if (count > 0) {
    write_heading(out, "Left out: " + count_of(count, "start", "starts"), options);
  }
  if (result.rides.size() > most_told && count > most_alike && !options.explain) {
    write_left_out_by_reason(out, result, options);
    return;
  }
  for (const Ride& ride : result.rides) {
    if (result.rides.size() > 1 && !ride.runs.rejected.empty()) {
      out << wrapped(escaped(ride.path), options.width) << '\n';
    }
    write_left_out_of(out, ride, options);
  }
  if (options.explain) {
    explain_rules(out, result, options);
  }
}

}  // namespace bothways
