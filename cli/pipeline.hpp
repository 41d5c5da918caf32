#pragma once

#include "bothways/log/log.hpp"
#include "bothways/report/result.hpp"
#include "cli/app.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"

#include <cstddef>
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
  bool outside = false;  ///< it was read, and has nothing in the time asked for: no failure
};

/// The inputs of which nothing was made, a sentence each.
struct Troubles {
  std::vector<std::string> failed;   ///< could not be read
  std::vector<std::string> outside;  ///< nothing in the time asked for

  template <typename Made>
  void take(Attempt<Made>&& attempt) {
    (attempt.outside ? outside : failed).push_back(std::move(attempt.trouble));
  }
};

/// Reads one log, or the part of it that was asked for; "-" is the input stream. Never throws: what goes
/// wrong is in `trouble`.
[[nodiscard]] Attempt<Log> read_input(const std::string& path, const ReadAs& read_as, const Streams& streams);

/// Reads one log and makes something of it. Never throws.
/// @param make  from a Log to what is wanted
template <typename Make>
[[nodiscard]] auto attempt(const std::string& path, const ReadAs& read_as, const Streams& streams,
                           const Make& make) {
  Attempt<Log> read = read_input(path, read_as, streams);
  Attempt<decltype(make(std::move(*read.made)))> attempted{std::nullopt, std::move(read.trouble),
                                                           read.outside};
  try {
    if (read.made) {
      attempted.made = make(std::move(*read.made));
    }
  } catch (const OutsideWindow& outside) {
    attempted = {std::nullopt, path + ": " + outside.what(), true};
  } catch (const std::bad_alloc&) {
    attempted.trouble = path + ": there is not enough memory to work on it";
  } catch (const std::exception& error) {
    attempted.trouble = path + ": " + error.what();
  }
  return attempted;
}

/// A log to be read, and where it belongs.
struct LogAsked {
  std::string path;
  TimeWindow window;     ///< the part of it that counts
  std::size_t side = 0;  ///< of a comparison
};

/// Each of these as a whole, all on one side.
[[nodiscard]] std::vector<LogAsked> whole_logs(const std::vector<std::string>& files);

/// How rides come to the sides of a comparison.
enum class SidesBy {
  path,   ///< LogAsked::side
  setup,  ///< the set-up that their conditions name, in order of time
};

/// Logs analysed, not yet numbered or paired.
struct Analysed {
  std::vector<Ride> rides;          ///< in the order of the files; of a log in parts one for each, with turns
  std::vector<std::size_t> sides;   ///< (rides); `no_side` where the set-up is not told
  std::vector<std::string> setups;  ///< names of the sides by set-up
  std::size_t read = 0;             ///< number of logs read
  std::vector<SplitSpec> splits;    ///< as asked, or as chosen
  bool marks_chosen = false;        ///< none were asked
  Troubles troubles;
  double top_speed_mps = 0.0;  ///< highest speed in the logs
};

inline constexpr std::size_t no_side = static_cast<std::size_t>(-1);

/// log -> speed -> runs for each log, at most `jobs` at once. Where no splits are asked, marks that the
/// starts of all logs reach, and of each side if there are several. The result does not depend on `jobs`.
[[nodiscard]] Analysed analyse_logs(const std::vector<LogAsked>& logs, const AnalysisOptions& options,
                                    unsigned jobs, const Streams& streams, SidesBy by = SidesBy::path);

/// All logs analysed, paired and averaged.
struct Analysis {
  Result result;
  std::size_t read = 0;  ///< number of logs read
  Troubles troubles;
  double top_speed_mps = 0.0;  ///< highest speed in the logs, for the nearest miss
};

/// analyse_logs(), then pairs over all. Run ids count from 1 over all logs, in order of time. The result does
/// not depend on `jobs`.
[[nodiscard]] Analysis analyse_all(const std::vector<std::string>& files, const AnalysisOptions& options,
                                   unsigned jobs, const Streams& streams);

/// Order of time by the beginning of the rides; those of an unknown day last.
[[nodiscard]] bool is_ridden_before(const Ride& a, const Ride& b);

/// Sorts the rides by time, leaves out what a second log of a ride recorded again, numbers the runs 1..n over
/// all of them, and takes out those that are not to count. @param side  whose runs are picked; may be empty
void number_and_pick(std::vector<Ride>& rides, const Picked& picked, const std::string& side);

/// Says on the error stream what could not be read and, if there is no run at all, what was looked for and
/// how near the logs came; returns the exit code.
[[nodiscard]] Exit conclude(const Inputs& inputs, const Analysis& analysis, const Streams& streams);

/// The same for the stages before runs. @param read  number of logs read
[[nodiscard]] Exit conclude_reading(const Inputs& inputs, const Troubles& troubles, std::size_t read,
                                    const Streams& streams);

}  // namespace bothways::cli
