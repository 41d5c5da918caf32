#pragma once

#include "cli/app.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

namespace bothways::cli {

/// The command line or config file is wrong; what() is one sentence.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// One command of the program: a row of the table in commands.cpp.
struct Command {
  const char* name;                                          ///< "" for the one without a name
  const char* usage;                                         ///< what follows the name: "PATH..."
  const char* summary;                                       ///< half a line
  boost::program_options::options_description (*options)();  ///< all it takes besides --help
  Exit (*run)(const boost::program_options::variables_map& values, const Streams& streams);
};

/// All commands, the one without a name first.
[[nodiscard]] std::span<const Command> commands();

/// What one types for it: "bothways", "bothways compare".
[[nodiscard]] std::string called(const Command& command);

/// The command of this name, or nullptr.
[[nodiscard]] const Command* find_command(std::string_view name);

}  // namespace bothways::cli
