#include "docs/pages.hpp"

#include <algorithm>
#include <fstream>
#include <stdexcept>

namespace docs {

namespace fs = std::filesystem;

fs::path root() {
  return BOTHWAYS_SOURCE_DIR;
}

std::vector<std::string> lines_of(const fs::path& file) {
  std::ifstream in(file);
  if (!in) {
    throw std::runtime_error("cannot read " + file.string());
  }
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) {
    lines.push_back(line);
  }
  return lines;
}

std::vector<fs::path> files_in(std::string_view folder, const std::vector<std::string>& endings) {
  std::vector<fs::path> files;
  if (!fs::is_directory(root() / folder)) {
    return files;
  }
  for (const auto& entry : fs::recursive_directory_iterator(root() / folder)) {
    const std::string name = entry.path().filename().string();
    const bool wanted = std::any_of(endings.begin(), endings.end(),
                                    [&name](const std::string& ending) { return name.ends_with(ending); });
    if (entry.is_regular_file() && wanted) {
      files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::vector<fs::path> pages() {
  std::vector<fs::path> all = files_in("docs", {".md"});
  for (const char* name : {"README.md", "DEVELOPERS.md"}) {
    all.push_back(root() / name);
  }
  return all;
}

namespace {

bool is_fence(const std::string& line) {
  const std::size_t at = line.find("```");
  return at != std::string::npos && at == line.find_first_not_of(' ');
}

}  // namespace

std::vector<std::string> prose_of(const fs::path& page) {
  std::vector<std::string> lines = lines_of(page);
  bool fenced = false;
  for (std::string& line : lines) {
    const bool fence = is_fence(line);
    if (fence || fenced || line.starts_with("    ")) {
      line.clear();
    }
    fenced = fenced != fence;
    bool code = false;
    for (char& letter : line) {
      const bool tick = letter == '`';
      code = code != tick;
      if (tick || code) {
        letter = ' ';
      }
    }
  }
  return lines;
}

std::vector<std::string> fenced_in(const fs::path& page) {
  std::vector<std::string> inside;
  bool fenced = false;
  for (const std::string& line : lines_of(page)) {
    if (is_fence(line)) {
      fenced = !fenced;
    } else if (fenced) {
      inside.push_back(line);
    }
  }
  return inside;
}

}  // namespace docs
