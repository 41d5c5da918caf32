#pragma once

#include "cli/folder.hpp"
#include "cli/pipeline.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <string>
#include <vector>

namespace bothways::cli {

/// A set-up as the command line names it.
struct SideAsked {
  std::string name;
  std::vector<std::string> paths;
};

/// --before, --after, --side, --main
void add_side_options(boost::program_options::options_description& options);

/// Two sides or more, the reference first; two paths alone are before and after. One path, or more than two,
/// without sides give none: then the set-ups that the conditions name are the sides. Touches no file.
/// @throws UsageError  if a side is missing, has no path, or is named in both ways.
[[nodiscard]] std::vector<SideAsked> parse_sides(const boost::program_options::variables_map& values);

/// The logs of all sides, and what was wrong with any path.
struct SideInputs {
  Inputs inputs;
  std::vector<LogAsked>
      logs;  ///< by side, sorted by path: the order in which they were named changes nothing
};

/// A path may say which part of it is meant, `ride.nmea@10:30-11:10`, unless there is a file of that name.
/// @throws UsageError  if one whole log is on two sides: then the sides are not two; or a time is wrong.
[[nodiscard]] SideInputs find_side_inputs(const std::vector<SideAsked>& sides, bool names = false);

/// @throws UsageError  if one log, or one part of it, is on two sides.
void refuse_shared_parts(const std::vector<SideAsked>& sides, const Analysed& analysed);

}  // namespace bothways::cli
