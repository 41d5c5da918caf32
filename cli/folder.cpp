#include "cli/folder.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/folder.hpp"

#include <filesystem>
#include <set>

namespace bothways::cli {

namespace fs = std::filesystem;

namespace {

/// One name per file, whatever links and dots lead to it.
std::string identity(const std::string& path) {
  std::error_code error;
  const fs::path canonical = fs::canonical(path, error);
  return error ? path : canonical.string();
}

std::vector<std::string> search(const std::string& folder, Inputs& inputs) {
  FoundLogs found;
  try {
    found = find_logs(folder);
  } catch (const LogError& error) {
    inputs.unreadable.emplace_back(error.what());
    return {};
  }
  for (const Note& note : found.notes) {
    inputs.troubles.push_back(note.text);
  }
  if (found.paths.empty()) {
    inputs.troubles.push_back("no log found in the folder " + folder +
                              " (looked for GPX, NMEA and CSV by content)");
  }
  return found.paths;
}

}  // namespace

Inputs find_inputs(const std::vector<std::string>& paths) {
  Inputs inputs;
  std::set<std::string> seen;
  for (const std::string& path : paths) {
    std::error_code error;
    std::vector<std::string> files{path};
    if (path != "-" && fs::is_directory(path, error)) {
      files = search(path, inputs);
    }
    for (const std::string& file : files) {
      if (seen.insert(file == "-" ? file : identity(file)).second) {
        inputs.files.push_back(file);
      }
    }
  }
  return inputs;
}

}  // namespace bothways::cli
