#pragma once

#include "bothways/report/compared.hpp"
#include "bothways/report/power.hpp"
#include "cli/command.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/pipeline.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace bothways::cli {

// What the page shares with the commands compare and power.

/// Set-ups read, analysed and compared.
struct Comparing {
  Compared compared;
  Inputs inputs;  ///< of all sides
  Troubles troubles;
  std::size_t read = 0;   ///< number of logs read
  std::string left_over;  ///< a sentence about runs on no side; empty if there are none
  std::string no_sides;   ///< a sentence why the conditions give no two sides; empty if they do
};

/// All that `compare` does before it writes (cmd_compare.cpp).
/// @param more  for which differences to work out how many more pairs would show them, which is slow
/// @throws UsageError  if the output is one of the inputs, or an option is wrong.
[[nodiscard]] Comparing compare_sides(const boost::program_options::variables_map& values,
                                      AnalysisOptions analysis, const OutputOptions& output,
                                      const Streams& streams, More more = More::all);

/// Says what could not be read or compared, and returns the exit code.
[[nodiscard]] Exit conclude_comparison(const Comparing& comparing, const Streams& streams);

/// --mass, --drag-area, --rolling (cmd_power.cpp)
void add_load_options(boost::program_options::options_description& options);

/// Acceleration and power of one result; where no mass is known `mass_from` is empty and the power means
/// nothing.
[[nodiscard]] PowerResult power_of_result(const Result& result,
                                          const boost::program_options::variables_map& values);

}  // namespace bothways::cli
