#include "cli/pipeline.hpp"

#include "bothways/core/error.hpp"
#include "bothways/core/usual_splits.hpp"
#include "bothways/log/read.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/run/same_ride.hpp"
#include "cli/command.hpp"
#include "cli/suggest.hpp"

#include <algorithm>
#include <istream>
#include <new>
#include <ostream>
#include <span>
#include <utility>

namespace bothways::cli {

namespace {

std::size_t read_stream(std::istream& in, std::span<char> buffer) {
  in.read(buffer.data(), static_cast<std::streamsize>(buffer.size()));
  if (in.bad()) {
    throw LogError("-", 0, "standard input could not be read");
  }
  return static_cast<std::size_t>(in.gcount());
}

}  // namespace

bool is_ridden_before(const Ride& a, const Ride& b) {
  return a.dated != b.dated ? a.dated : a.dated && a.first < b.first;
}

Attempt<Log> read_input(const std::string& path, const ReadAs& read_as, const Streams& streams) {
  Attempt<Log> read;
  const ReadOptions& reading = read_as.options;
  try {
    if (path == "-") {
      read.made =
          read_log([&](std::span<char> buffer) { return read_stream(streams.in, buffer); }, path, reading);
    } else {
      read.made = read_log(path, reading);
    }
    read.made = within_window(std::move(*read.made), read_as.part.window, read_as.part.zone);
  } catch (const OutsideWindow& outside) {
    read = {std::nullopt, (path == "-" ? "standard input" : path) + ": " + outside.what(), true};
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

std::vector<LogAsked> whole_logs(const std::vector<std::string>& files) {
  std::vector<LogAsked> logs;
  logs.reserve(files.size());
  for (const std::string& file : files) {
    logs.push_back({.path = file, .window = {}});
  }
  return logs;
}

Analysis analyse_all(const std::vector<std::string>& files, const AnalysisOptions& options, unsigned jobs,
                     const Streams& streams) {
  require_sides(options.picked, {});
  Analysed analysed = analyse_logs(whole_logs(files), options, jobs, streams);
  Analysis analysis{.read = analysed.read,
                    .troubles = std::move(analysed.troubles),
                    .top_speed_mps = analysed.top_speed_mps};
  Result& result = analysis.result;
  result.clock = options.clock;
  result.metric = options.metric;
  result.splits = std::move(analysed.splits);
  result.marks_chosen = analysed.marks_chosen;
  result.rides = std::move(analysed.rides);
  number_and_pick(result.rides, options.picked, "");
  Averaged averaged = average_runs(result.rides, result.splits, {.metric = result.metric});
  result.pairs = std::move(averaged.pairs);
  result.overall = std::move(averaged.overall);
  return analysis;
}

void number_and_pick(std::vector<Ride>& rides, const Picked& picked, const std::string& side) {
  std::stable_sort(rides.begin(), rides.end(), is_ridden_before);
  leave_out_same_rides(rides);
  int id = 0;
  for (Ride& ride : rides) {
    for (Run& run : ride.runs.accepted) {
      run.id = ++id;
    }
  }
  pick_runs(picked, side, rides);
}

}  // namespace bothways::cli
