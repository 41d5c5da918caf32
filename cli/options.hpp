#pragma once

#include "bothways/run/find.hpp"
#include "bothways/run/run.hpp"
#include "cli/app.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <cstddef>
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
};

struct AnalysisOptions {
  RunOptions run;               ///< no splits: they are chosen from what the starts reach
  std::vector<SplitSpec> also;  ///< to be timed whatever is chosen
  std::size_t rows_kept =
      4'000'000;  ///< fixes that stay in memory until splits are chosen; others are read again
  Clock clock = Clock::rollout;
  bool metric = false;
  std::string conditions;  ///< file that holds for all logs; empty: conditions.ini beside each
};

/// --jobs
void add_input_options(boost::program_options::options_description& options);
/// --splits, --units, --clock, --include-gentle, --conditions
void add_analysis_options(boost::program_options::options_description& options);
/// --units
void add_units_option(boost::program_options::options_description& options);
/// --format, --output
void add_output_options(boost::program_options::options_description& options);
/// --explain, --quiet
void add_telling_options(boost::program_options::options_description& options);

/// Each throws UsageError with a sentence that names the option and what it takes.
[[nodiscard]] unsigned parse_jobs(const boost::program_options::variables_map& values);
[[nodiscard]] AnalysisOptions parse_analysis(const boost::program_options::variables_map& values,
                                             const Streams& streams);
[[nodiscard]] bool parse_metric(const boost::program_options::variables_map& values, const Streams& streams);
[[nodiscard]] OutputOptions parse_output(const boost::program_options::variables_map& values);

/// The paths of the command line. @throws UsageError  if there is none.
[[nodiscard]] std::vector<std::string> parse_paths(const boost::program_options::variables_map& values);

/// True if the switch is among the command's options and was given.
[[nodiscard]] bool is_on(const boost::program_options::variables_map& values, const std::string& name);

}  // namespace bothways::cli
