// The output in README.md is what the program prints.  BOTHWAYS_UPDATE_GOLDEN=1 writes it anew.
#include "cli/app.hpp"
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>

namespace {

namespace fs = std::filesystem;

/// The command is given as one types it at the root of the source, so the test has to stand there.
class StandAtRoot {
 public:
  StandAtRoot() : before_(fs::current_path()) { fs::current_path(docs::root()); }
  ~StandAtRoot() { fs::current_path(before_); }
  StandAtRoot(const StandAtRoot&) = delete;
  StandAtRoot& operator=(const StandAtRoot&) = delete;

 private:
  fs::path before_;
};

/// Splits a command line at blanks outside of double quotes.
std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words(1);
  bool quoted = false;
  for (const char letter : line) {
    if (letter == '"') {
      quoted = !quoted;
    } else if (letter == ' ' && !quoted) {
      words.emplace_back();
    } else {
      words.back() += letter;
    }
  }
  return words;
}

}  // namespace

TEST_CASE("the output in README.md is what the program prints", "[docs]") {
  const fs::path readme = docs::root() / "README.md";
  std::vector<std::string> page = docs::lines_of(readme);
  const auto starts = [](const std::string& text) {
    return [text](const std::string& line) { return line.starts_with(text); };
  };
  const auto command = std::find_if(page.begin(), page.end(), starts("$ bothways "));
  const auto end = std::find_if(command, page.end(), starts("```"));
  REQUIRE(end != page.end());

  std::vector<std::string> arguments = words_of(*command);
  arguments.erase(arguments.begin(), arguments.begin() + 2);
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  {
    const StandAtRoot here;
    CHECK(bothways::cli::run(arguments, {.in = in, .out = out, .err = err}) == bothways::cli::Exit::ok);
  }
  CHECK(err.str().empty());

  std::vector<std::string> printed;
  std::istringstream text(out.str());
  for (std::string line; std::getline(text, line);) {
    printed.push_back(line);
  }
  if (std::getenv("BOTHWAYS_UPDATE_GOLDEN") != nullptr) {
    const auto at = page.erase(command + 1, end);
    page.insert(at, printed.begin(), printed.end());
    std::ofstream file(readme);
    for (const std::string& line : page) {
      file << line << '\n';
    }
    return;
  }
  INFO("look at the difference; BOTHWAYS_UPDATE_GOLDEN=1 accepts what is printed now");
  CHECK(std::vector<std::string>(command + 1, end) == printed);
}
