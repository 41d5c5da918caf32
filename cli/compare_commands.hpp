#pragma once

#include "cli/command.hpp"

namespace bothways::cli {

// Set-ups side by side: for each command its options and its run (cmd_<name>.cpp).

[[nodiscard]] boost::program_options::options_description compare_options();
[[nodiscard]] Exit run_compare(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description plan_options();
[[nodiscard]] Exit run_plan(const boost::program_options::variables_map& values, const Streams& streams);

/// Of one ride or folder, or of set-ups side by side.
[[nodiscard]] boost::program_options::options_description page_options();
[[nodiscard]] Exit run_page(const boost::program_options::variables_map& values, const Streams& streams);

/// The page that another command writes into a file whose name ends in .html. @param sides  as in compare
/// @throws UsageError  if an option goes with no page.
[[nodiscard]] Exit run_page_of_file(const boost::program_options::variables_map& values, bool sides,
                                    const Streams& streams);

/// Of all set-ups in a tree of rides, one after the other.
[[nodiscard]] boost::program_options::options_description logbook_options();
[[nodiscard]] Exit run_logbook(const boost::program_options::variables_map& values, const Streams& streams);

}  // namespace bothways::cli
