#include "cli/pipeline.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/report/number.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/run/same_ride.hpp"
#include "bothways/speed/derive.hpp"
#include "cli/command.hpp"
#include "cli/conditions.hpp"
#include "cli/parallel.hpp"
#include "cli/say.hpp"
#include "cli/suggest.hpp"

#include <algorithm>
#include <istream>
#include <iterator>
#include <new>
#include <ostream>
#include <span>

namespace bothways::cli {

namespace {

std::size_t read_stream(std::istream& in, std::span<char> buffer) {
  in.read(buffer.data(), static_cast<std::streamsize>(buffer.size()));
  if (in.bad()) {
    throw LogError("-", 0, "standard input could not be read");
  }
  return static_cast<std::size_t>(in.gcount());
}

Ride analysed(const Log& log, const RunOptions& options, const std::optional<Conditions>& conditions) {
  Ride ride = analyse(log, options);
  FoundConditions beside = conditions ? FoundConditions{*conditions, {}} : conditions_beside(log.path);
  ride.conditions = std::move(beside.conditions);
  std::move(beside.notes.begin(), beside.notes.end(), std::back_inserter(ride.notes));
  return ride;
}

void tell(const Streams& streams, const std::string& text) {
  say(streams, "bothways", text);
}

std::string nearest_miss(const Analysis& analysis) {
  const Result& result = analysis.result;
  std::size_t left_out = 0;
  for (const Ride& ride : result.rides) {
    left_out += ride.runs.rejected.size();
  }
  const std::string lowest = lowest_mark(result.splits);
  std::string text = "no run found; a run stands still and then gains speed without a lift";
  if (!lowest.empty()) {
    text += ", at least to " + lowest;
  }
  const double factor = result.metric ? mps_per_kmh : mps_per_mph;
  text +=
      result.rides.size() == 1 ? "; the highest speed in the log is " : "; the highest speed in the logs is ";
  text += fixed(analysis.top_speed_mps / factor, 1) + (result.metric ? " km/h" : " mph");
  if (left_out > 0) {
    text +=
        ", and " + std::to_string(left_out) + (left_out == 1 ? " start was" : " starts were") + " left out";
  }
  return text;
}

}  // namespace

Attempt<Log> read_input(const std::string& path, const Streams& streams) {
  Attempt<Log> read;
  try {
    if (path == "-") {
      read.made = read_log([&](std::span<char> buffer) { return read_stream(streams.in, buffer); }, path);
    } else {
      read.made = read_log(path);
    }
  } catch (const LogError& error) {
    read.trouble = path == "-" ? LogError("standard input", error.line(), error.text()).what() : error.what();
    if (find_command(path) != nullptr && !path.empty()) {
      read.trouble += " (the command comes first: bothways " + path + " ...)";
    } else if (const std::string meant = suggestion(path); !meant.empty()) {
      read.trouble += " (or the command, which comes first: " + meant + " ...)";
    }
  } catch (const std::bad_alloc&) {
    read.trouble = path + ": there is not enough memory to read it";
  } catch (const std::exception& error) {
    read.trouble = path + ": " + error.what();
  }
  return read;
}

Analysed analyse_logs(const std::vector<std::string>& files, const AnalysisOptions& options, unsigned jobs,
                      const Streams& streams) {
  std::optional<Conditions> conditions;
  if (!options.conditions.empty()) {
    conditions = read_conditions(options.conditions);
  }
  std::vector<Attempt<Ride>> rides(files.size());
  for_each_log(files.size(), jobs, streams, [&](std::size_t i) {
    rides[i] =
        attempt(files[i], streams, [&](const Log& log) { return analysed(log, options.run, conditions); });
  });
  Analysed all;
  for (Attempt<Ride>& ride : rides) {
    if (!ride.made) {
      all.troubles.push_back(std::move(ride.trouble));
      continue;
    }
    if (ride.made->runs.accepted.empty()) {
      all.top_speed_mps = std::max(all.top_speed_mps, ride.made->top_speed_mps);
    }
    all.rides.push_back(std::move(*ride.made));
  }
  return all;
}

Analysis analyse_all(const std::vector<std::string>& files, const AnalysisOptions& options, unsigned jobs,
                     const Streams& streams) {
  Analysed analysed = analyse_logs(files, options, jobs, streams);
  Analysis analysis{.troubles = std::move(analysed.troubles), .top_speed_mps = analysed.top_speed_mps};
  analysis.result.clock = options.clock;
  analysis.result.metric = options.metric;
  analysis.result.splits = options.run.splits;
  analysis.result.rides = std::move(analysed.rides);
  pair_and_average(analysis.result);
  return analysis;
}

void sort_by_time(std::vector<Ride>& rides) {
  std::stable_sort(rides.begin(), rides.end(), [](const Ride& a, const Ride& b) {
    return a.dated != b.dated ? a.dated : a.dated && a.first < b.first;
  });
}

void pair_and_average(Result& result) {
  sort_by_time(result.rides);
  leave_out_same_rides(result.rides);
  int id = 0;
  for (Ride& ride : result.rides) {
    for (Run& run : ride.runs.accepted) {
      run.id = ++id;
    }
  }
  result.pairs = pair_runs(result.rides);
  result.overall = overall(result.rides, result.pairs, result.splits);
}

Exit conclude_reading(const Inputs& inputs, const std::vector<std::string>& troubles, std::size_t read,
                      const Streams& streams) {
  for (const auto& list : {inputs.troubles, inputs.unreadable, troubles}) {
    for (const std::string& trouble : list) {
      tell(streams, trouble);
    }
  }
  if (!troubles.empty() || !inputs.unreadable.empty()) {
    return Exit::failed;
  }
  return read == 0 ? Exit::nothing_found : Exit::ok;
}

Exit conclude(const Inputs& inputs, const Analysis& analysis, const Streams& streams) {
  const Exit reading = conclude_reading(inputs, analysis.troubles, analysis.result.rides.size(), streams);
  if (analysis.result.rides.empty() || count_runs(analysis.result.rides) > 0) {
    return reading;
  }
  tell(streams, nearest_miss(analysis));
  return reading == Exit::ok ? Exit::nothing_found : reading;
}

}  // namespace bothways::cli
