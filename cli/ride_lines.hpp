#pragma once

#include "cli/pipeline.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <string>
#include <vector>

namespace bothways::cli {

// Rides as lines of JSON: written where logs are timed, read where they are paired (docs/scaling.md).

/// --from-jsonl
void add_lines_option(boost::program_options::options_description& options);

/// Whether the paths hold lines and not logs. @throws UsageError  where an option comes with it that was for
/// the logs
[[nodiscard]] bool parse_lines(const boost::program_options::variables_map& values);

/// The rides of files of lines, "-" among them, as if their logs had been analysed here, by side and path. A
/// line that is none becomes a sentence in `troubles`, and the rest is used; so does one whose splits are not
/// those of the others.
/// @param files  with the side of each
[[nodiscard]] Analysed rides_of_lines(const std::vector<LogAsked>& files, const Streams& streams);

}  // namespace bothways::cli
