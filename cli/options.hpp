#pragma once

#include "bothways/log/read.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/run/find.hpp"
#include "bothways/run/run.hpp"
#include "cli/app.hpp"
#include "cli/leave_out.hpp"
#include "cli/parts.hpp"
#include "cli/ride_store.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bothways::cli {

// Groups of options that commands share, and the values they become. Nothing here touches a file.

enum class Format { text, csv, json, jsonl };

struct OutputOptions {
  Format format = Format::text;
  std::string file;  ///< empty: standard output
  bool explain = false;
  bool quiet = false;
  std::string time_zone;  ///< as --time-zone names it; empty: not given
  CsvDialect dialect;     ///< of Format::csv
};

/// How logs are read.
struct ReadAs {
  ReadOptions options;
  PartOptions part;
};

struct AnalysisOptions {
  RunOptions run;               ///< no splits: they are chosen from what the starts reach
  std::vector<SplitSpec> also;  ///< to be timed whatever is chosen
  std::size_t rows_kept =
      4'000'000;  ///< fixes that stay in memory until splits are chosen; others are read again
  Clock clock = Clock::rollout;
  bool metric = false;
  bool from_lines = false;         ///< the paths hold rides as lines, see ride_lines.hpp
  ReadAs read;                     ///< what logs do not say themselves, and which part of them counts
  std::string conditions;          ///< file that holds for all logs; empty: conditions.ini beside each
  Picked picked;                   ///< runs that count
  std::optional<RideStore> store;  ///< where analyses are remembered, with RunOptions::more_splits nothing is
};

/// --jobs, --date-order, --from, --to, --time-zone
void add_input_options(boost::program_options::options_description& options);
/// --splits, --units, --clock, --include-gentle, --conditions
void add_analysis_options(boost::program_options::options_description& options);
/// --units
void add_units_option(boost::program_options::options_description& options);
/// --format, --csv-dialect, --output
void add_output_options(boost::program_options::options_description& options);
/// --strip-places
void add_places_option(boost::program_options::options_description& options);
/// --explain, --quiet
void add_telling_options(boost::program_options::options_description& options);

/// Each throws UsageError with a sentence that names the option and what it takes.
[[nodiscard]] unsigned parse_jobs(const boost::program_options::variables_map& values);
[[nodiscard]] ReadAs parse_reading(const boost::program_options::variables_map& values,
                                   const Streams& streams);
[[nodiscard]] AnalysisOptions parse_analysis(const boost::program_options::variables_map& values,
                                             const Streams& streams);
[[nodiscard]] bool parse_metric(const boost::program_options::variables_map& values, const Streams& streams);
/// @param page  a page can be written, into a file whose name ends in .html
[[nodiscard]] OutputOptions parse_output(const boost::program_options::variables_map& values,
                                         bool page = false);

/// False if places and times of day are to be kept back. @throws UsageError  with text, which tells both.
[[nodiscard]] bool parse_places(const boost::program_options::variables_map& values,
                                const OutputOptions& output);

/// The paths of the command line. @throws UsageError  if there is none.
[[nodiscard]] std::vector<std::string> parse_paths(const boost::program_options::variables_map& values);

/// True if the switch is among the command's options and was given.
[[nodiscard]] bool is_on(const boost::program_options::variables_map& values, const std::string& name);

}  // namespace bothways::cli
