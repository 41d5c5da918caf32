// Every code that a program may meet in the output stands in docs/formats.md.
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <regex>
#include <string>

namespace {

/// Codes in a text of C++: any word with a hyphen in quotes, and the word that a start is rejected with.
std::vector<std::string> codes_in(const std::string& text) {
  static const std::regex hyphened(R"re("([a-z]+(-[a-z]+)+)")re");
  static const std::regex rejected(R"re(reject\([^"]*"([a-z]+)")re");
  std::vector<std::string> codes;
  for (const std::regex* kind : {&hyphened, &rejected}) {
    for (auto at = std::sregex_iterator(text.begin(), text.end(), *kind); at != std::sregex_iterator();
         ++at) {
      if (!(*at)[1].str().starts_with("set-up")) {  // a word for people
        codes.push_back((*at)[1]);
      }
    }
  }
  return codes;
}

std::string text_of(const std::filesystem::path& file) {
  std::string text;
  for (const std::string& line : docs::lines_of(file)) {
    text += line + '\n';
  }
  return text;
}

/// Code -> a file that makes it.
std::map<std::string, std::string> codes_made() {
  std::map<std::string, std::string> made;
  for (const auto& file : docs::files_in("lib", {".cpp"})) {
    for (const std::string& code : codes_in(text_of(file))) {
      made.emplace(code, file.filename().string());
    }
  }
  return made;
}

}  // namespace

TEST_CASE("a code is a hyphened word in quotes, or what a start is rejected with", "[docs]") {
  CHECK(codes_in(R"(notes.push_back({"no-time", "it has no-where a time", 0});)") ==
        std::vector<std::string>{"no-time"});
  CHECK(codes_in("f.reject(\n  s.moving, \"gap\", \"text\"); x = \"word\";") ==
        std::vector<std::string>{"gap"});
}

TEST_CASE("every code that the library makes stands in docs/formats.md", "[docs]") {
  const std::string page = text_of(docs::root() / "docs/formats.md");
  const auto made = codes_made();
  CHECK(made.size() > 50);
  std::vector<std::string> missing;
  for (const auto& [code, file] : made) {
    if (page.find('`' + code + '`') == std::string::npos) {
      missing.push_back(code + " (" + file + ")");
    }
  }
  CHECK(missing == std::vector<std::string>{});
}
