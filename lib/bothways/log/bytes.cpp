#include "bothways/log/bytes.hpp"

#include "bothways/core/error.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <system_error>
#include <utility>

namespace bothways {

namespace {

std::string reason(int error) {
  switch (error) {
    case ENOENT:
      return "there is no such file; check the name";
    case EACCES:
    case EPERM:
      return "you have no permission to read it; check its permissions";
    case EISDIR:
      return "it is a folder, not a log; give a file in it";
    default:
      return "it cannot be read (" + std::generic_category().message(error) + ")";
  }
}

class File {
 public:
  explicit File(const std::string& path) : path_(path), handle_(::open(path.c_str(), O_RDONLY | O_CLOEXEC)) {
    if (handle_ < 0) {
      throw LogError(path, 0, reason(errno));
    }
  }
  ~File() { static_cast<void>(::close(handle_)); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  File(File&&) = delete;
  File& operator=(File&&) = delete;

  [[nodiscard]] std::size_t read(std::span<char> into) const {
    for (;;) {
      const auto got = ::read(handle_, into.data(), into.size());
      if (got >= 0) {
        return static_cast<std::size_t>(got);
      }
      if (errno != EINTR) {
        throw LogError(path_, 0, reason(errno));
      }
    }
  }

 private:
  std::string path_;
  int handle_;
};

}  // namespace

ByteSource file_source(const std::string& path) {
  const auto file = std::make_shared<const File>(path);
  return [file](std::span<char> into) { return file->read(into); };
}

std::string take_bytes(const ByteSource& source, std::size_t count) {
  std::string bytes(count, '\0');
  std::size_t have = 0;
  while (have < count) {
    const std::size_t got = source({bytes.data() + have, count - have});
    if (got == 0) {
      break;
    }
    have += got;
  }
  bytes.resize(have);
  return bytes;
}

ByteSource with_head(std::string head, ByteSource rest) {
  const std::size_t block = head.size();
  return [head = std::move(head), rest = std::move(rest), block,
          used = std::size_t{0}](std::span<char> into) mutable -> std::size_t {
    if (used == head.size()) {
      if (into.size() >= block) {
        return rest(into);
      }
      head.resize(block);
      used = block;
      head.resize(rest(head));
      used = 0;
    }
    const std::size_t count = std::min(into.size(), head.size() - used);
    std::memcpy(into.data(), head.data() + used, count);
    used += count;
    return count;
  };
}

}  // namespace bothways
