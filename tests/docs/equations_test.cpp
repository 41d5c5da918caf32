// Equations of docs/method.md: numbered by section, and cited in the file that computes them.
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <regex>
#include <set>

namespace {

namespace fs = std::filesystem;

const std::regex number(R"(\(([0-9]+\.[0-9]+)\))");

/// Numbers in parentheses, in their order.
std::vector<std::string> numbers_in(const std::string& text) {
  std::vector<std::string> all;
  for (auto at = std::sregex_iterator(text.begin(), text.end(), number); at != std::sregex_iterator(); ++at) {
    all.push_back((*at)[1]);
  }
  return all;
}

/// Numbers that a line of C++ cites in its comment.
std::vector<std::string> cited_in(const std::string& line) {
  const std::size_t at = line.find("//");
  return numbers_in(at == std::string::npos ? std::string() : line.substr(at));
}

/// Numbers of the displayed equations that are not what their section and place ask for, and how many there
/// are.
struct Numbering {
  std::set<std::string> numbers;
  std::vector<std::string> odd;
};

/// An equation is indented by four blanks or more and ends in its number.
Numbering numbering_of(const std::vector<std::string>& lines) {
  static const std::regex heading("## ([0-9]+)\\. .*");
  static const std::regex equation(R"(    +\S.* \(([0-9.]+)\))");
  Numbering out;
  std::string section;
  int place = 0;
  for (const std::string& line : lines) {
    std::smatch match;
    if (std::regex_match(line, match, heading)) {
      section = match[1];
      place = 0;
    } else if (std::regex_match(line, match, equation)) {
      const std::string wanted = section + "." + std::to_string(++place);
      out.numbers.insert(match[1]);
      if (match[1] != wanted) {
        out.odd.push_back(match[1].str() + ", not " + wanted);
      }
    }
  }
  return out;
}

fs::path method() {
  return docs::root() / "docs/method.md";
}

/// Equation -> file, from the table at the end of the page.
std::map<std::string, fs::path> computed_in() {
  static const std::regex row(R"(\| \(([0-9]+\.[0-9]+)\) \| (\S+) \| .+ \|)");
  std::map<std::string, fs::path> files;
  for (const std::string& line : docs::lines_of(method())) {
    std::smatch match;
    if (std::regex_match(line, match, row)) {
      const std::string file = match[2];
      files[match[1]] = docs::root() / (file.starts_with("tests/") ? file : "lib/bothways/" + file);
    }
  }
  return files;
}

std::set<std::string> cited_by(const fs::path& file) {
  std::set<std::string> all;
  for (const std::string& line : docs::lines_of(file)) {
    for (const std::string& one : cited_in(line)) {
      all.insert(one);
    }
  }
  return all;
}

}  // namespace

TEST_CASE("an equation that is out of turn is found, and only comments cite", "[docs]") {
  const Numbering found =
      numbering_of({"## 2. A", "    x = y   (2.1)", "    z   (2.3)", "## 3. B", "    u   (2)"});
  CHECK(found.odd == std::vector<std::string>{"2.3, not 2.2", "2, not 3.1"});
  CHECK(cited_in("f(4.1);  // eqs. (1.1), (2.10), half (a.b)") == std::vector<std::string>{"1.1", "2.10"});
}

TEST_CASE("equations of docs/method.md are numbered by section in their order", "[docs]") {
  const Numbering page = numbering_of(docs::lines_of(method()));
  CHECK(page.odd == std::vector<std::string>{});
  CHECK(page.numbers.size() > 25);
}

TEST_CASE("each equation is cited in the file that docs/method.md says computes it", "[docs]") {
  const std::map<std::string, fs::path> files = computed_in();
  std::vector<std::string> wrong;
  for (const std::string& one : numbering_of(docs::lines_of(method())).numbers) {
    const auto at = files.find(one);
    if (at == files.end()) {
      wrong.push_back("(" + one + ") is not in the table of files");
    } else if (!fs::exists(at->second) || !cited_by(at->second).contains(one)) {
      wrong.push_back("(" + one + ") is not cited in " + at->second.string());
    }
  }
  CHECK(wrong == std::vector<std::string>{});
}

TEST_CASE("every equation that the library, a page or the simulator cites is in docs/method.md", "[docs]") {
  const std::set<std::string> there = numbering_of(docs::lines_of(method())).numbers;
  std::vector<std::string> wrong;
  const auto check = [&](const fs::path& file, const std::vector<std::string>& cited) {
    for (const std::string& one : cited) {
      if (!there.contains(one)) {
        wrong.push_back(fs::relative(file, docs::root()).string() + " cites (" + one + ")");
      }
    }
  };
  for (const char* folder : {"lib", "cli", "tests/support"}) {
    for (const fs::path& file : docs::files_in(folder, {".hpp", ".cpp"})) {
      for (const std::string& line : docs::lines_of(file)) {
        check(file, cited_in(line));
      }
    }
  }
  for (const std::string& line : docs::lines_of(method())) {
    check(method(), numbers_in(line));
  }
  for (const fs::path& file : docs::files_in("docs/decisions", {".md"})) {
    for (const std::string& line : docs::lines_of(file)) {
      check(file,
            line.find("method.md)") == std::string::npos ? std::vector<std::string>{} : numbers_in(line));
    }
  }
  CHECK(wrong == std::vector<std::string>{});
}

TEST_CASE("lines of docs/method.md have at most 100 characters", "[docs]") {
  for (const std::string& line : docs::lines_of(method())) {
    INFO(line);
    // A character is a byte that does not continue another (UTF-8).
    CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & '\xC0') != '\x80'; }) <= 100);
  }
}
