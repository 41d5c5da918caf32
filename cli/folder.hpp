#pragma once

#include <string>
#include <vector>

namespace bothways::cli {

/// What the paths of a command line stand for.
struct Inputs {
  std::vector<std::string> files;  ///< logs to read, each and its copies once, in order; "-": standard input
  std::vector<std::string> troubles;    ///< a sentence per folder without a log, or not searched on purpose;
                                        ///< and where files would have counted twice
  std::vector<std::string> unreadable;  ///< a sentence per folder or file in it that may not be read
};

/// Folders give the logs found in them (sorted by path), other paths themselves, existing or not. What else
/// lies in a folder is told by kind.
/// @param names  name each file that is no log, and why it is none
[[nodiscard]] Inputs find_inputs(const std::vector<std::string>& paths, bool names = false);

}  // namespace bothways::cli
