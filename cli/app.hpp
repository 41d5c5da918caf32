#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace bothways::cli {

/// Exit codes, part of the contract.
enum class Exit { ok = 0, failed = 1, usage = 2, nothing_found = 3 };

struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
};

/// The program without its process: arguments (without the program's name) and streams in, exit code out.
[[nodiscard]] Exit run(const std::vector<std::string>& arguments, const Streams& streams);

}  // namespace bothways::cli
