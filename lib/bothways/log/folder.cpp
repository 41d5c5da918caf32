#include "bothways/log/folder.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <system_error>
#include <utility>

namespace bothways {

namespace fs = std::filesystem;

namespace {

class Search {
 public:
  explicit Search(const FolderOptions& options) : options_(options) {}

  /// @param top  the folder that the user named: it must be readable
  void folder(const fs::path& path, std::size_t depth, bool top) {
    std::error_code error;
    std::vector<fs::directory_entry> entries;
    for (fs::directory_iterator at(path, error); !error && at != fs::directory_iterator();
         at.increment(error)) {
      if (looked_at_++ == options_.entries) {
        found_.notes.push_back(
            {"folder-full", path.string() + ": too many files; the search stopped here", 0});
      }
      if (looked_at_ > options_.entries) {
        break;
      }
      entries.push_back(*at);
    }
    if (error && top) {
      throw LogError(path.string(), 0, "you have no permission to read this folder; check its permissions");
    }
    if (error) {
      found_.unreadable.push_back(path.string());
    }
    std::sort(entries.begin(), entries.end(),
              [](const auto& a, const auto& b) { return a.path().native() < b.path().native(); });
    for (const fs::directory_entry& entry : entries) {
      look_at(entry, depth);
    }
  }

  FoundLogs take() { return std::move(found_); }

 private:
  void look_at(const fs::directory_entry& entry, std::size_t depth) {
    const std::string name = entry.path().filename().native();
    std::error_code error;
    if (name.empty() || name.front() == '.') {
      return;
    }
    if (entry.is_directory(error)) {
      if (entry.is_symlink(error)) {
        found_.notes.push_back(
            {"folder-link", entry.path().string() + ": a link to a folder, not searched", 0});
      } else if (depth >= options_.depth) {
        found_.notes.push_back(
            {"folder-deep", entry.path().string() + ": too deep a folder, not searched", 0});
      } else {
        folder(entry.path(), depth + 1, false);
      }
      return;
    }
    const std::string& path = entry.path().native();
    const Kind kind = kind_of(path);
    if (kind == Kind::unreadable) {
      found_.unreadable.push_back(path);
    } else if (kind == Kind::file) {
      (looks_like_log(path) ? found_.paths : found_.others).push_back(path);
    }
  }

  enum class Kind { file, unreadable, passed_over };

  /// A regular file that no other name has led to; a link to nothing cannot be read.
  Kind kind_of(const std::string& path) {
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) {
      return Kind::unreadable;
    }
    if (!S_ISREG(status.st_mode) || !seen_.insert({status.st_dev, status.st_ino}).second) {
      return Kind::passed_over;
    }
    return std::ifstream(path, std::ios::binary) ? Kind::file : Kind::unreadable;
  }

  FolderOptions options_;
  std::size_t looked_at_ = 0;
  std::set<std::pair<dev_t, ino_t>> seen_;
  FoundLogs found_;
};

}  // namespace

FoundLogs find_logs(const std::string& path, const FolderOptions& options) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!fs::exists(status)) {
    throw LogError(path, 0, "there is no such file or folder; check the name");
  }
  if (!fs::is_directory(status)) {
    return {{path}, {}, {}, {}};
  }
  Search search(options);
  search.folder(path, 0, true);
  FoundLogs found = search.take();
  for (auto* paths : {&found.paths, &found.others, &found.unreadable}) {
    std::sort(paths->begin(), paths->end());
  }
  return found;
}

}  // namespace bothways
