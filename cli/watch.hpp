#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace bothways::cli {

/// Tells which files in a folder have been written, moved or copied there completely: closed by who wrote
/// them, or given their name at the end of it (inotify). Folders within are not looked into.
class FolderWatch {
 public:
  /// @throws LogError  if the folder cannot be watched
  explicit FolderWatch(const std::string& folder);
  FolderWatch(const FolderWatch&) = delete;
  FolderWatch(FolderWatch&&) = delete;
  FolderWatch& operator=(const FolderWatch&) = delete;
  FolderWatch& operator=(FolderWatch&&) = delete;
  ~FolderWatch();

  /// The next such file, in order of completion; nothing if none came in this time.
  /// @throws LogError  if the folder is gone
  [[nodiscard]] std::optional<std::string> next(int timeout_ms);

 private:
  std::filesystem::path folder_;
  int notify_ = -1;
  std::string events_;  ///< read and not yet told
};

}  // namespace bothways::cli
