#pragma once

#include "cli/command.hpp"

namespace bothways::cli {

// The pipeline and its stages as commands: for each its options and its run (cmd_<name>.cpp).

[[nodiscard]] boost::program_options::options_description all_options();
[[nodiscard]] Exit run_all(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description fixes_options();
[[nodiscard]] Exit run_fixes(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description speed_options();
[[nodiscard]] Exit run_speed(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description runs_options();
[[nodiscard]] Exit run_runs(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description pairs_options();
[[nodiscard]] Exit run_pairs(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description trip_options();
[[nodiscard]] Exit run_trip(const boost::program_options::variables_map& values, const Streams& streams);

[[nodiscard]] boost::program_options::options_description power_options();
[[nodiscard]] Exit run_power(const boost::program_options::variables_map& values, const Streams& streams);

}  // namespace bothways::cli
