#include "cli/leave_out.hpp"

#include "bothways/core/text.hpp"
#include "cli/command.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <charconv>
#include <iterator>
#include <optional>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

constexpr int most_runs = 100'000;
constexpr std::size_t longest_reason = 200;  // bytes

/// Takes a whole number from the front of a text.
std::optional<int> take_number(std::string_view& text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || number < 1 || number > most_runs) {
    return std::nullopt;
  }
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return number;
}

/// Takes "3", "3-5" or "3 - 5" from the front of a text.
std::optional<std::pair<int, int>> take_range(std::string_view& text) {
  const auto first = take_number(text);
  if (!first) {
    return std::nullopt;
  }
  std::string_view rest = trimmed(text);
  if (!rest.starts_with('-')) {
    return std::pair(*first, *first);
  }
  rest = trimmed(rest.substr(1));
  const auto last = take_number(rest);
  if (!last || *last < *first) {
    return std::nullopt;
  }
  text = rest;
  return std::pair(*first, *last);
}

/// "after:3-4 rain"
std::vector<LeftOut> parse_item(std::string_view item, const std::string& option) {
  const std::size_t first_digit = item.find_first_of("0123456789");
  const std::size_t colon = item.find(':');
  std::string_view rest = item;
  std::string side;
  if (colon != std::string_view::npos &&
      (first_digit == std::string_view::npos || colon < first_digit || item.find(' ') > colon)) {
    side = trimmed(item.substr(0, colon));
    rest = trimmed(item.substr(colon + 1));
  }
  const auto range = take_range(rest);
  const bool clear =
      rest.empty() || (trimmed(rest) != rest && trimmed(rest).find_first_of("0123456789") != 0);
  if (!range || !clear) {
    throw UsageError("--" + option +
                     R"( takes numbers of runs, for example "2, 5-7", or "after:3" where there are sides)" +
                     (option == "leave-out" ? R"(, with a reason behind if you like, "5 wheel spun")" : "") +
                     "; not '" + std::string(item) + "'");
  }
  const std::string reason(trimmed(rest));
  if (reason.size() > longest_reason) {
    throw UsageError("--" + option + ": a reason has at most 200 letters");
  }
  std::vector<LeftOut> list;
  for (int run = range->first; run <= range->second; ++run) {
    list.push_back({side, run, reason});
  }
  return list;
}

std::vector<LeftOut> parse_option(const po::variables_map& values, const std::string& option) {
  return values.count(option) > 0 ? parse_leave_out(values[option].as<std::string>(), option)
                                  : std::vector<LeftOut>{};
}

void take_out(Ride& ride, std::vector<Run>::iterator run, const std::string& text) {
  ride.runs.rejected.push_back({run->movement, run->start, "left-out", text});
  std::stable_sort(ride.runs.rejected.begin(), ride.runs.rejected.end(),
                   [](const Rejected& a, const Rejected& b) { return a.time < b.time; });
  ride.runs.accepted.erase(run);
}

/// Takes a run out of the rides. @return false if there is none of that number.
bool take_out(int id, const std::string& text, std::vector<Ride>& rides) {
  for (Ride& ride : rides) {
    auto& runs = ride.runs.accepted;
    const auto run = std::find_if(runs.begin(), runs.end(), [&](const Run& r) { return r.id == id; });
    if (run != runs.end()) {
      take_out(ride, run, text);
      return true;
    }
  }
  return false;
}

std::vector<int> ids_of(const std::vector<Ride>& rides) {
  std::vector<int> ids;
  for (const Ride& ride : rides) {
    std::transform(ride.runs.accepted.begin(), ride.runs.accepted.end(), std::back_inserter(ids),
                   [](const Run& run) { return run.id; });
  }
  return ids;
}

void require_run(int id, const std::vector<int>& ids, const std::string& side, const char* option) {
  if (std::find(ids.begin(), ids.end(), id) == ids.end()) {
    throw UsageError(
        "--" + std::string(option) + ": there is no run " + std::to_string(id) +
        (side.empty() ? "" : " of " + side) +
        (ids.empty() ? "; there is no run" : "; the runs are 1 to " + std::to_string(ids.back())));
  }
}

}  // namespace

void add_pick_options(po::options_description& options) {
  auto add = options.add_options();
  const auto list = [] { return po::value<std::string>()->value_name("RUNS"); };
  add("only", list(), R"(only these runs count, by their numbers: "1-4, 7")");
  add("leave-out", list(), R"(these runs do not count: "5", or with the reason "5 wheel spun")");
}

Picked parse_picked(const po::variables_map& values) {
  return {parse_option(values, "leave-out"), parse_option(values, "only")};
}

std::vector<LeftOut> parse_leave_out(std::string_view text, const std::string& option) {
  std::vector<LeftOut> list;
  while (true) {
    const std::size_t comma = text.find(',');
    const auto items = parse_item(trimmed(text.substr(0, comma)), option);
    list.insert(list.end(), items.begin(), items.end());
    if (comma == std::string_view::npos) {
      return list;
    }
    text.remove_prefix(comma + 1);
  }
}

void pick_runs(const Picked& picked, const std::string& side, std::vector<Ride>& rides) {
  const std::vector<int> ids = ids_of(rides);
  std::vector<int> kept;
  for (const LeftOut& one : picked.only) {
    if (one.side == side) {
      require_run(one.run, ids, side, "only");
      kept.push_back(one.run);
    }
  }
  for (const LeftOut& one : picked.left_out) {
    if (one.side == side) {
      require_run(one.run, ids, side, "leave-out");
      (void)take_out(one.run,
                     "run " + std::to_string(one.run) + " was left out by hand" +
                         (one.reason.empty() ? "" : ": " + one.reason),
                     rides);
    }
  }
  for (const int id : ids) {
    if (!kept.empty() && std::find(kept.begin(), kept.end(), id) == kept.end()) {
      (void)take_out(
          id, "run " + std::to_string(id) + " was left out by hand: it is not among those of --only", rides);
    }
  }
}

void require_sides(const Picked& picked, std::span<const std::string> sides) {
  for (const auto* list : {&picked.left_out, &picked.only}) {
    const std::string option = list == &picked.only ? "--only" : "--leave-out";
    for (const LeftOut& one : *list) {
      if (sides.empty() && !one.side.empty()) {
        throw UsageError(option + ": there are no sides here; write the number of the run alone, not '" +
                         one.side + ":" + std::to_string(one.run) + "'");
      }
      if (!sides.empty() && std::find(sides.begin(), sides.end(), one.side) == sides.end()) {
        throw UsageError(option + (one.side.empty() ? ": say of which side, for example \"" + sides.front() +
                                                          ":" + std::to_string(one.run) + "\""
                                                    : ": there is no side '" + one.side + "'"));
      }
    }
  }
}

}  // namespace bothways::cli
