// Private names are unique in a folder, whose files are compiled together
// (docs/decisions/0048-units-of-a-folder.md).
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <regex>
#include <set>
#include <utility>

namespace {

namespace fs = std::filesystem;

/// The constant or type that a line of a source defines outside of any function; empty if it defines none.
std::string defined_in(const std::string& line) {
  static const std::regex constant(R"((?:inline )?constexpr (?:std::\w+(?:<.*>)?|[\w:]+) (\w+)(?: =|\{).*)");
  static const std::regex type(R"((?:struct|class) (\w+)(?: final)?(?: : [^;]*)? \{.*)");
  std::smatch found;
  return std::regex_match(line, found, constant) || std::regex_match(line, found, type) ? found[1].str() : "";
}

}  // namespace

TEST_CASE("no constant or type of a folder has the name of another there", "[docs]") {
  std::map<std::pair<fs::path, std::string>, std::set<std::string>> files_of;
  for (const char* folder : {"lib", "cli"}) {
    for (const fs::path& file : docs::files_in(folder, {".cpp", ".hpp"})) {
      for (const std::string& line : docs::lines_of(file)) {
        if (const std::string name = defined_in(line); !name.empty()) {
          files_of[{fs::relative(file.parent_path(), docs::root()), name}].insert(file.filename().string());
        }
      }
    }
  }
  CHECK(files_of.size() > 400);
  std::vector<std::string> twice;
  for (const auto& [name, files] : files_of) {
    if (files.size() > 1) {
      std::string words = name.first.string() + ": " + name.second + " in";
      for (const std::string& file : files) {
        words += " " + file;
      }
      twice.push_back(words);
    }
  }
  CHECK(twice == std::vector<std::string>{});
}
