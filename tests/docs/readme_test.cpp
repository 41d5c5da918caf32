// What the pages promise is there.
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <regex>
#include <set>

namespace {

namespace fs = std::filesystem;

std::string first_paragraph(const fs::path& page) {
  std::string text;
  for (const std::string& line : docs::lines_of(page)) {
    if (line.starts_with("#") || (line.empty() && text.empty())) {
      continue;
    }
    if (line.empty()) {
      break;
    }
    text += line + " ";
  }
  return text;
}

bool holds(const std::vector<std::string>& lines, const std::string& wanted) {
  return std::find(lines.begin(), lines.end(), wanted) != lines.end();
}

bool can_run(const fs::path& file) {
  return (fs::status(file).permissions() & fs::perms::owner_exec) != fs::perms::none;
}

}  // namespace

TEST_CASE("README.md says in its first paragraph what the program is for", "[docs]") {
  const std::string text = first_paragraph(docs::root() / "README.md");
  for (const char* word : {"ride log", "both ways", "part", "quicker", "interval"}) {
    CHECK_THAT(text, Catch::Matchers::Contains(word));
  }
}

TEST_CASE("the two commands of README.md are there and can be run", "[docs]") {
  const auto commands = docs::fenced_in(docs::root() / "README.md");
  for (const char* name : {".ci/try", ".ci/test"}) {
    INFO(name);
    CHECK(holds(commands, name));
    CHECK(can_run(docs::root() / name));
  }
  // and the clean checkout runs the second of them
  CHECK(holds(docs::lines_of(docs::root() / ".ci/run"), "\"$clean/bothways/.ci/test\""));
}

TEST_CASE("a script begun with another shell goes on in bash", "[docs]") {
  for (const char* name : {".ci/try", ".ci/test", ".ci/checks", ".ci/run"}) {
    INFO(name);
    CHECK(can_run(docs::root() / name));
    const auto lines = docs::lines_of(docs::root() / name);
    const auto first = std::find_if(lines.begin(), lines.end(),
                                    [](const std::string& line) { return !line.starts_with("#"); });
    REQUIRE(first != lines.end());
    CHECK(*first == R"([ -n "${BASH_VERSION:-}" ] || exec bash "$0" "$@")");
  }
}

TEST_CASE("the lines of CMake in README.md are those of the stranger's project that the tests build",
          "[docs]") {
  static const std::regex version(R"(project\(bothways VERSION ([0-9]+\.[0-9]+)\..*)");
  std::smatch found;
  const auto top = docs::lines_of(docs::root() / "CMakeLists.txt");
  REQUIRE(std::any_of(top.begin(), top.end(),
                      [&found](const std::string& line) { return std::regex_match(line, found, version); }));
  const std::string wanted = found[1];
  const auto shown = docs::fenced_in(docs::root() / "README.md");
  for (std::string line : docs::lines_of(docs::root() / "tests/consumer/project/CMakeLists.txt")) {
    line = std::regex_replace(line, std::regex("stranger"), "mine");
    line = std::regex_replace(line, std::regex(R"(\$\{WANTED\})"), wanted);
    INFO(line);
    CHECK((holds(shown, line) || line.starts_with("cmake_minimum_required")));
  }
}

TEST_CASE("pages name no path of one machine", "[docs]") {
  // Absolute paths only where every Debian has them.
  static const std::regex absolute(R"((^|[\s`"'(=])(/[a-zA-Z]+)/)");
  for (const fs::path& page : docs::pages()) {
    for (const std::string& line : docs::lines_of(page)) {
      for (auto at = std::sregex_iterator(line.begin(), line.end(), absolute); at != std::sregex_iterator();
           ++at) {
        const std::string top = (*at)[2];
        INFO(page << ": " << line);
        CHECK((top == "/usr" || top == "/etc" || top == "/dev"));
      }
    }
  }
}

TEST_CASE("links between pages lead somewhere", "[docs]") {
  static const std::regex link(R"(\]\(([^)#: ]+)(#[^)]*)?\))");
  std::size_t count = 0;
  for (const fs::path& page : docs::pages()) {
    for (const std::string& line : docs::prose_of(page)) {
      for (auto at = std::sregex_iterator(line.begin(), line.end(), link); at != std::sregex_iterator();
           ++at) {
        const fs::path target = page.parent_path() / (*at)[1].str();
        INFO(page << " links to " << target);
        CHECK(fs::exists(target));
        ++count;
      }
    }
  }
  CHECK(count > 5);
}

TEST_CASE("each decision has a number of its own, in its file name and in its title", "[docs]") {
  std::set<std::string> numbers;
  for (const fs::path& record : docs::files_in("docs/decisions", {".md"})) {
    const std::string number = record.filename().string().substr(0, 4);
    INFO(record);
    CHECK(number.find_first_not_of("0123456789") == std::string::npos);
    CHECK(numbers.insert(number).second);
    CHECK(docs::lines_of(record).at(0).starts_with("# " + number + " "));
  }
  CHECK(numbers.contains("0001"));
}
