#include "cli/new_file.hpp"

#include "cli/output.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <system_error>

namespace bothways::cli {

namespace fs = std::filesystem;

namespace {

constexpr int most_names = 1000;
constexpr mode_t for_all_to_read = S_IRUSR | S_IWUSR | S_IRGRP | S_IROTH;

/// Without its extension, and without .gz before that.
fs::path bare_name(const fs::path& path) {
  const fs::path name = path.filename();
  return name.extension() == ".gz" ? name.stem().stem() : name.stem();
}

}  // namespace

NewFile::NewFile(const std::string& beside, const std::string& extension) {
  const fs::path log = fs::absolute(beside);
  for (int n = 1; n < most_names; ++n) {
    const std::string number = n > 1 ? "-" + std::to_string(n) : "";
    path_ = (log.parent_path() / (bare_name(log).string() + number + extension)).string();
    const int file = ::open(path_.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, for_all_to_read);
    if (file >= 0) {
      ::close(file);
      return;
    }
    if (errno != EEXIST) {
      break;
    }
  }
  throw OutputError(path_ + " could not be made: " + std::strerror(errno));
}

NewFile::~NewFile() {
  std::error_code error;
  if (fs::file_size(path_, error) == 0 && !error) {
    fs::remove(path_, error);
  }
}

}  // namespace bothways::cli
