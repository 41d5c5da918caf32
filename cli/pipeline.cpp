#include "cli/pipeline.hpp"

#include "bothways/core/error.hpp"
#include "bothways/core/usual_splits.hpp"
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
#include <atomic>
#include <istream>
#include <iterator>
#include <map>
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

/// A log of which the starts are not judged yet, or are.
struct Look {
  Ride ride;
  std::optional<SpeedSeries> series;  ///< nothing: its runs are found, or it is to be read again
};

class Analyst {
 public:
  Analyst(const AnalysisOptions& options, const Streams& streams)
      : run_(options.run), rows_kept_(options.rows_kept), streams_(streams) {
    if (!options.conditions.empty()) {
      conditions_ = read_conditions(options.conditions);
    }
  }

  /// The first look; where splits are asked, the only one.
  [[nodiscard]] Attempt<Look> first(const std::string& path) {
    return attempt(path, streams_, [&](const Log& log) {
      SpeedSeries series = speed_series(log);
      Look look{look_at(log, series), std::nullopt};
      add_conditions(look.ride);
      if (!run_.splits.empty()) {
        look.ride = with_runs(std::move(look.ride), std::move(series), run_);
      } else if (path == "-" || rows_.fetch_add(log.fixes.size()) < rows_kept_) {
        look.series = std::move(series);
      }
      return look;
    });
  }

  void choose(const std::vector<SplitSpec>& splits) { run_.splits = splits; }

  /// The second look, when the marks are chosen.
  [[nodiscard]] Attempt<Look> second(Look look) const {
    const std::string path = look.ride.path;
    if (look.series) {
      look.ride = with_runs(std::move(look.ride), std::move(*look.series), run_);
      return {std::move(look), ""};
    }
    return attempt(path, streams_, [&](const Log& log) {
      return Look{with_runs(look.ride, speed_series(log), run_), std::nullopt};
    });
  }

 private:
  void add_conditions(Ride& ride) const {
    FoundConditions beside = conditions_ ? FoundConditions{*conditions_, {}} : conditions_beside(ride.path);
    ride.conditions = std::move(beside.conditions);
    std::move(beside.notes.begin(), beside.notes.end(), std::back_inserter(ride.notes));
  }

  RunOptions run_;
  std::size_t rows_kept_;
  const Streams& streams_;
  std::optional<Conditions> conditions_;
  std::atomic<std::size_t> rows_{0};
};

/// The splits that nobody asked for: marks that the starts of every side reach.
std::vector<SplitSpec> chosen_splits(const std::vector<Attempt<Look>>& looks,
                                     const std::vector<std::size_t>& side_of,
                                     const AnalysisOptions& options) {
  std::map<std::size_t, std::vector<const Ride*>> sides;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    if (looks[i].made) {
      sides[side_of.empty() ? 0 : side_of[i]].push_back(&looks[i].made->ride);
    }
  }
  double least_mps = 0.0;
  for (const auto& [side, rides] : sides) {
    const double side_mps = reach_mps(rides);
    least_mps =
        least_mps > 0.0 && side_mps > 0.0 ? std::min(least_mps, side_mps) : std::max(least_mps, side_mps);
  }
  std::vector<SplitSpec> splits = usual_splits(least_mps, options.metric);
  for (const SplitSpec& also : options.also) {
    if (std::none_of(splits.begin(), splits.end(), [&](const SplitSpec& s) { return s.name == also.name; })) {
      splits.push_back(also);
    }
  }
  return splits;
}

void tell(const Streams& streams, const std::string& text) {
  say(streams, "bothways", text);
}

/// Splits that the starts of these logs reach, where the ones asked for are too high; else nothing.
std::string splits_within_reach(const Result& result) {
  std::vector<const Ride*> rides;
  for (const Ride& ride : result.rides) {
    rides.push_back(&ride);
  }
  const double reach = reach_mps(rides);
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
  if (const std::string offer = splits_within_reach(result); !offer.empty()) {
    text += "; what its starts reach: --splits \"" + offer + "\"";
  }
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
                      const Streams& streams, const std::vector<std::size_t>& side_of) {
  Analyst analyst(options, streams);
  std::vector<Attempt<Look>> looks(files.size());
  for_each_log(files.size(), jobs, streams, [&](std::size_t i) { looks[i] = analyst.first(files[i]); });
  Analysed all{.splits = options.run.splits, .marks_chosen = options.run.splits.empty()};
  if (all.marks_chosen) {
    all.splits = chosen_splits(looks, side_of, options);
    analyst.choose(all.splits);
    for_each_log(files.size(), jobs, streams, [&](std::size_t i) {
      if (looks[i].made) {
        looks[i] = analyst.second(std::move(*looks[i].made));
      }
    });
  }
  for (Attempt<Look>& look : looks) {
    if (!look.made) {
      all.troubles.push_back(std::move(look.trouble));
      continue;
    }
    Ride& ride = look.made->ride;
    if (ride.runs.accepted.empty()) {
      all.top_speed_mps = std::max(all.top_speed_mps, ride.top_speed_mps);
    }
    all.rides.push_back(std::move(ride));
  }
  return all;
}

Analysis analyse_all(const std::vector<std::string>& files, const AnalysisOptions& options, unsigned jobs,
                     const Streams& streams) {
  Analysed analysed = analyse_logs(files, options, jobs, streams);
  Analysis analysis{.troubles = std::move(analysed.troubles), .top_speed_mps = analysed.top_speed_mps};
  analysis.result.clock = options.clock;
  analysis.result.metric = options.metric;
  analysis.result.splits = std::move(analysed.splits);
  analysis.result.marks_chosen = analysed.marks_chosen;
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
