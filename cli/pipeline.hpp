#pragma once

#include "bothways/log/log.hpp"
#include "bothways/report/result.hpp"
#include "cli/app.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"

#include <exception>
#include <new>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace bothways::cli {

/// What became of one input: what was made of it, or the sentence that says why nothing was.
template <typename Made>
struct Attempt {
  std::optional<Made> made;
  std::string trouble;
};

/// Reads one log; "-" is the input stream. Never throws: what goes wrong is in `trouble`.
[[nodiscard]] Attempt<Log> read_input(const std::string& path, const Streams& streams);

/// Reads one log and makes something of it. Never throws.
/// @param make  from a Log to what is wanted
template <typename Make>
[[nodiscard]] auto attempt(const std::string& path, const Streams& streams, const Make& make) {
  Attempt<Log> read = read_input(path, streams);
  Attempt<decltype(make(*read.made))> attempted{std::nullopt, std::move(read.trouble)};
  try {
    if (read.made) {
      attempted.made = make(*read.made);
    }
  } catch (const std::bad_alloc&) {
    attempted.trouble = path + ": there is not enough memory to work on it";
  } catch (const std::exception& error) {
    attempted.trouble = path + ": " + error.what();
  }
  return attempted;
}

/// Logs analysed, not yet numbered or paired.
struct Analysed {
  std::vector<Ride> rides;            ///< in the order of the files
  std::vector<SplitSpec> splits;      ///< as asked, or as chosen
  bool marks_chosen = false;          ///< none were asked
  std::vector<std::string> troubles;  ///< a sentence per input that could not be read
  double top_speed_mps = 0.0;         ///< highest speed in the logs without a run
};

/// log -> speed -> runs for each file, at most `jobs` at once. Where no splits are asked, marks that the
/// starts of all logs reach, and of each side if there are sides. The result does not depend on `jobs`.
/// @param side_of  (files) the side of each; empty: all of one
[[nodiscard]] Analysed analyse_logs(const std::vector<std::string>& files, const AnalysisOptions& options,
                                    unsigned jobs, const Streams& streams,
                                    const std::vector<std::size_t>& side_of = {});

/// All logs analysed, paired and averaged.
struct Analysis {
  Result result;
  std::vector<std::string> troubles;  ///< a sentence per input that could not be read
  double top_speed_mps = 0.0;         ///< highest speed in the logs without a run, for the nearest miss
};

/// analyse_logs(), then pairs over all. Run ids count from 1 over all logs, in order of time. The result does
/// not depend on `jobs`.
[[nodiscard]] Analysis analyse_all(const std::vector<std::string>& files, const AnalysisOptions& options,
                                   unsigned jobs, const Streams& streams);

/// Puts rides in order of their beginning; those of an unknown day last, as they were.
void sort_by_time(std::vector<Ride>& rides);

/// Sorts the rides by time, leaves out what a second log of a ride recorded again, numbers the runs 1..n over
/// all of them, pairs them, and averages the pairs.
void pair_and_average(Result& result);

/// Says on the error stream what could not be read and, if there is no run at all, what was looked for and
/// how near the logs came; returns the exit code.
[[nodiscard]] Exit conclude(const Inputs& inputs, const Analysis& analysis, const Streams& streams);

/// The same for the stages before runs. @param read  number of logs read
[[nodiscard]] Exit conclude_reading(const Inputs& inputs, const std::vector<std::string>& troubles,
                                    std::size_t read, const Streams& streams);

}  // namespace bothways::cli
