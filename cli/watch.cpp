#include "cli/watch.hpp"

#include "bothways/core/error.hpp"

#include <poll.h>
#include <sys/inotify.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace bothways::cli {

namespace {

constexpr std::size_t most_event_bytes = 65'536;  // of events at a time

bool is_readable(int file, int timeout_ms) {
  pollfd in{.fd = file, .events = POLLIN, .revents = 0};
  return poll(&in, 1, timeout_ms) == 1 && (in.revents & POLLIN) != 0;
}

}  // namespace

FolderWatch::FolderWatch(const std::string& folder) : folder_(folder) {
  std::error_code error;
  if (!std::filesystem::is_directory(folder, error)) {
    throw LogError(folder, 0, "this is no folder; name one in which logs arrive");
  }
  notify_ = inotify_init1(IN_CLOEXEC | IN_NONBLOCK);
  if (notify_ < 0 || inotify_add_watch(notify_, folder.c_str(),
                                       IN_CLOSE_WRITE | IN_MOVED_TO | IN_DELETE_SELF | IN_MOVE_SELF) < 0) {
    const std::string why = std::strerror(errno);
    if (notify_ >= 0) {
      close(notify_);
    }
    throw LogError(folder, 0, "the folder cannot be watched: " + why);
  }
}

FolderWatch::~FolderWatch() {
  close(notify_);
}

std::optional<std::string> FolderWatch::next(int timeout_ms) {
  if (events_.empty() && is_readable(notify_, timeout_ms)) {
    events_.resize(most_event_bytes);
    const ssize_t count = read(notify_, events_.data(), events_.size());
    events_.resize(count > 0 ? static_cast<std::size_t>(count) : 0);
  }
  while (events_.size() >= sizeof(inotify_event)) {
    inotify_event event{};
    std::memcpy(&event, events_.data(), sizeof event);
    const std::string name =
        events_.c_str() + sizeof event;  // filled up with zeros; empty: the folder itself
    const bool named = event.len > 0;
    events_.erase(0, sizeof event + event.len);
    if ((event.mask & (IN_DELETE_SELF | IN_MOVE_SELF | IN_IGNORED)) != 0U) {
      throw LogError(folder_.string(), 0, "the folder is gone");
    }
    if (named && (event.mask & IN_ISDIR) == 0U && !name.starts_with('.')) {
      return (folder_ / name).string();
    }
  }
  return std::nullopt;
}

}  // namespace bothways::cli
