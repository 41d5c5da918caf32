#pragma once

#include "bothways/run/ride.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace bothways::cli {

/// A run that is not to count, or one of those that alone are to count.
struct LeftOut {
  std::string side;    ///< empty where there is one
  int run = 0;         ///< Run::id
  std::string reason;  ///< in the rider's words; may be empty
};

/// Which runs count: all but some, or of each side that is named only some.
struct Picked {
  std::vector<LeftOut> left_out;
  std::vector<LeftOut> only;
};

/// --leave-out, --only
void add_pick_options(boost::program_options::options_description& options);

/// @throws UsageError  if one of them is no list of runs.
[[nodiscard]] Picked parse_picked(const boost::program_options::variables_map& values);

/// Reads "2, 5 wheel spun, after:3-4 rain". @param option  named in errors
/// @throws UsageError  if it is no such list.
[[nodiscard]] std::vector<LeftOut> parse_leave_out(std::string_view text,
                                                   const std::string& option = "leave-out");

/// Moves runs of a side that are not to count to its starts that do not count; the others keep their numbers.
/// @throws UsageError  if there is no such run.
void pick_runs(const Picked& picked, const std::string& side, std::vector<Ride>& rides);

/// @throws UsageError  if a run is named without its side, or with one that is not among `sides`; none: there
/// is one side, without a name.
void require_sides(const Picked& picked, std::span<const std::string> sides);

}  // namespace bothways::cli
