#include "cli/folder.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/folder.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
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

/// Files met so far, and those met more than once.
class Seen {
 public:
  bool is_new(const std::string& file) {
    const std::string one_name = file == "-" ? file : identity(file);
    if (met_.insert(one_name).second) {
      return true;
    }
    if (again_.insert(one_name).second && first_.empty()) {
      first_ = file == "-" ? "standard input" : file;
    }
    return false;
  }
  [[nodiscard]] std::string again_words() const {
    if (again_.size() > 1) {
      return std::to_string(again_.size()) + " files were given more than once, the first " + first_ +
             "; each is read once";
    }
    return again_.empty() ? "" : first_ + " was given more than once; it is read once";
  }

 private:
  std::set<std::string> met_;
  std::set<std::string> again_;
  std::string first_;
};

}  // namespace

Inputs find_inputs(const std::vector<std::string>& paths) {
  Inputs inputs;
  Seen seen;
  for (const std::string& path : paths) {
    std::error_code error;
    std::vector<std::string> files{path};
    if (path != "-" && fs::is_directory(path, error)) {
      files = search(path, inputs);
    }
    std::copy_if(files.begin(), files.end(), std::back_inserter(inputs.files),
                 [&](const std::string& file) { return seen.is_new(file); });
  }
  if (const std::string again = seen.again_words(); !again.empty()) {
    inputs.troubles.push_back(again);
  }
  return inputs;
}

}  // namespace bothways::cli
