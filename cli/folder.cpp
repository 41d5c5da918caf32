#include "cli/folder.hpp"

#include "bothways/log/read.hpp"

#include <algorithm>
#include <filesystem>
#include <set>

namespace bothways::cli {

namespace fs = std::filesystem;

namespace {

std::vector<std::string> logs_in(const std::string& folder) {
  std::vector<std::string> logs;
  std::error_code error;
  for (fs::recursive_directory_iterator it(folder, fs::directory_options::skip_permission_denied, error), end;
       !error && it != end; it.increment(error)) {
    if (it->path().filename().string().starts_with('.')) {
      it.disable_recursion_pending();
    } else if (it->is_regular_file(error) && looks_like_log(it->path().string())) {
      logs.push_back(it->path().string());
    }
  }
  std::sort(logs.begin(), logs.end());
  return logs;
}

/// One name per file, whatever links and dots lead to it.
std::string identity(const std::string& path) {
  std::error_code error;
  const fs::path canonical = fs::canonical(path, error);
  return error ? path : canonical.string();
}

}  // namespace

Inputs find_inputs(const std::vector<std::string>& paths) {
  Inputs inputs;
  std::set<std::string> seen;
  for (const std::string& path : paths) {
    std::error_code error;
    std::vector<std::string> files{path};
    if (path != "-" && fs::is_directory(path, error)) {
      files = logs_in(path);
      if (files.empty()) {
        inputs.troubles.push_back("no log found in the folder " + path +
                                  " (looked for GPX, NMEA and CSV by content)");
      }
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
