// The starts that are no runs, each with its reason.
#include "bothways/report/escape.hpp"
#include "bothways/report/explain.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/summary_logs.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <map>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t most_alike = 3;  // more starts whose reasons differ in numbers alone are one line

std::string place_words(const LatLon& place) {
  if (!std::isfinite(place.lat_deg) || !std::isfinite(place.lon_deg)) {
    return "";
  }
  return " at " + fixed(place.lat_deg, 5) + ", " + fixed(place.lon_deg, 5);
}

/// A sentence taken apart: its words without the numbers, and the numbers as they are written.
struct Sentence {
  std::vector<std::string> words;  ///< one more than numbers
  std::vector<std::string> numbers;
};

Sentence apart(const std::string& text) {
  const auto is_digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
  Sentence out{{""}, {}};
  for (std::size_t i = 0; i < text.size();) {
    if (!is_digit(i)) {
      out.words.back() += text[i++];
      continue;
    }
    const std::size_t from = i;
    while (is_digit(i) || (text[i] == '.' && is_digit(i + 1))) {
      ++i;
    }
    out.numbers.push_back(text.substr(from, i - from));
    out.words.emplace_back();
  }
  return out;
}

/// "30 to 63", or the one number that all have.
std::string range_words(const std::vector<Sentence>& sentences, std::size_t number) {
  const auto value = [&](const Sentence& s) {
    const std::string& digits = s.numbers[number];
    double out = 0.0;
    std::from_chars(digits.data(), digits.data() + digits.size(), out);
    return out;
  };
  const auto [least, most] =
      std::minmax_element(sentences.begin(), sentences.end(),
                          [&](const Sentence& a, const Sentence& b) { return value(a) < value(b); });
  const std::string& lo = least->numbers[number];
  const std::string& hi = most->numbers[number];
  return lo == hi ? lo : lo + " to " + hi;
}

/// What starts say that differ in their numbers alone: with the range of each.
std::string common_text(const std::vector<const Rejected*>& starts) {
  std::vector<Sentence> sentences;
  std::transform(starts.begin(), starts.end(), std::back_inserter(sentences),
                 [](const Rejected* start) { return apart(start->text); });
  const Sentence first = apart(starts.front()->text);
  std::string out;
  for (std::size_t i = 0; i < first.words.size(); ++i) {
    out += first.words[i];
    out += i < first.numbers.size() ? range_words(sentences, i) : "";
  }
  return out;
}

std::string group_words(const std::vector<const Rejected*>& starts, bool dated,
                        const SummaryOptions& options) {
  return std::to_string(starts.size()) + " starts, " + told_time(starts.front()->time, dated, options) +
         " to " + told_time(starts.back()->time, dated, options) + ", the first" +
         place_words(starts.front()->place) + ": " + common_text(starts);
}

void write_left_out_of(std::ostream& out, const Ride& ride, const SummaryOptions& options) {
  using Alike = std::pair<std::string, std::vector<std::string>>;
  const auto alike = [](const Rejected& start) { return Alike{start.code, apart(start.text).words}; };
  std::map<Alike, std::vector<const Rejected*>> groups;
  for (const Rejected& start : ride.runs.rejected) {
    groups[alike(start)].push_back(&start);
  }
  for (const Rejected& start : ride.runs.rejected) {
    const auto& group = groups[alike(start)];
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
