#include "cli/support.hpp"

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace fs = std::filesystem;

Outcome call(const std::vector<std::string>& arguments, const std::string& in, const std::string& config_path,
             const std::string& cache_path) {
  std::istringstream in_stream(in);
  std::ostringstream out;
  std::ostringstream err;
  const auto code = bothways::cli::run(
      arguments,
      {.in = in_stream, .out = out, .err = err, .config_path = config_path, .cache_path = cache_path});
  return {code, out.str(), err.str()};
}

InFolder::InFolder(const fs::path& folder) : before_(fs::current_path()) {
  fs::current_path(folder);
}

InFolder::~InFolder() {
  fs::current_path(before_);
}

TemporaryFolder::TemporaryFolder() {
  std::string name = (fs::temp_directory_path() / "bothways-test-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) {
    throw std::runtime_error("no temporary folder");
  }
  path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::string TemporaryFolder::file(const std::string& name, const std::string& content) const {
  fs::create_directories((path_ / name).parent_path());
  std::ofstream(path_ / name, std::ios::binary) << content;
  return (path_ / name).string();
}

std::string one_line(std::string text) {
  for (std::size_t at = text.find("\n  "); at != std::string::npos; at = text.find("\n  ", at)) {
    text.replace(at, 3, " ");
  }
  return text;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}
