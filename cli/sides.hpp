#pragma once

#include "cli/folder.hpp"

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

/// Two sides or more, the reference first; two paths alone are before and after. Touches no file.
/// @throws UsageError  if a side is missing, has no path, or is named in both ways.
[[nodiscard]] std::vector<SideAsked> parse_sides(const boost::program_options::variables_map& values);

/// The logs of each side, sorted by path, so that the order in which they were named changes nothing.
/// @throws UsageError  if one log is on two sides: then the sides are not two.
[[nodiscard]] std::vector<Inputs> find_side_inputs(const std::vector<SideAsked>& sides, bool names = false);

}  // namespace bothways::cli
