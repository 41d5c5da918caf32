#pragma once

#include "bothways/core/note.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace bothways {

/// Logs found below a folder.
struct FoundLogs {
  std::vector<std::string> paths;   ///< in order of name, byte by byte; each file once, also if linked twice
  std::vector<Note> notes;          ///< folders that were not searched and why
  std::vector<std::string> others;  ///< files that are no logs, in order of name
  std::vector<std::string> unreadable;  ///< files, and folders within, that could not be opened
};

struct FolderOptions {
  std::size_t depth = 8;            ///< folders within folders; deeper ones are not searched
  std::size_t entries = 1'000'000;  ///< so many names are looked at, then the search stops
};

/// Searches a folder for ride logs, told by content. Hidden files and folders (names that start with a dot)
/// and links to folders are passed over; links to files are followed. A path that is no folder is given back
/// as it is.
/// @throws LogError  if there is no such path or the folder may not be read.
[[nodiscard]] FoundLogs find_logs(const std::string& path, const FolderOptions& options = {});

}  // namespace bothways
