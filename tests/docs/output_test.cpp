// The output in README.md is what the program prints.  BOTHWAYS_UPDATE_GOLDEN=1 writes it anew.
#include "cli/app.hpp"
#include "cli/support.hpp"
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

std::vector<std::string> printed_by(const std::string& command) {
  std::vector<std::string> arguments = words_of(command);
  arguments.erase(arguments.begin(), arguments.begin() + 2);
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  {
    const StandAtRoot here;
    CHECK(bothways::cli::run(arguments, {.in = in, .out = out, .err = err}) == bothways::cli::Exit::ok);
  }
  // Beside each log lies a case.txt, which is none: that much is said on the error stream.
  const std::string said = one_line(err.str());
  CHECK((said.empty() || said.ends_with("is not a ride log: 1 .txt; --explain names it\n")));
  std::vector<std::string> printed;
  std::istringstream text(out.str());
  for (std::string line; std::getline(text, line);) {
    printed.push_back(line);
  }
  return printed;
}

}  // namespace

TEST_CASE("the output in README.md is what the program prints", "[docs][golden]") {
  const fs::path readme = docs::root() / "README.md";
  std::vector<std::string> page = docs::lines_of(readme);
  const bool update = std::getenv("BOTHWAYS_UPDATE_GOLDEN") != nullptr;
  std::size_t sessions = 0;
  for (std::size_t at = 0; at < page.size(); ++at) {
    if (!page[at].starts_with("$ bothways ")) {
      continue;
    }
    CAPTURE(page[at]);
    ++sessions;
    const auto begin = page.begin() + static_cast<std::ptrdiff_t>(at) + 1;
    auto end = std::find(begin, page.end(), "```");
    REQUIRE(end != page.end());
    std::vector<std::string> printed = printed_by(page[at]);
    if (end != begin && *(end - 1) == "...") {  // only the beginning is shown
      --end;
      REQUIRE(end - begin > 5);
      REQUIRE(printed.size() > static_cast<std::size_t>(end - begin));
      printed.resize(static_cast<std::size_t>(end - begin));
    }
    if (update) {
      page.insert(page.erase(begin, end), printed.begin(), printed.end());
    } else {
      INFO("look at the difference; BOTHWAYS_UPDATE_GOLDEN=1 accepts what is printed now");
      CHECK(std::vector<std::string>(begin, end) == printed);
    }
  }
  CHECK(sessions >= 2);
  if (update) {
    std::ofstream file(readme);
    for (const std::string& line : page) {
      file << line << '\n';
    }
  }
}
