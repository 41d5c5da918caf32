// A source is cited by its key, capitals and digits in square brackets, and listed once in docs/sources.md.
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <regex>
#include <set>

namespace {

namespace fs = std::filesystem;

struct Keys {
  std::set<std::string> good;
  std::set<std::string> odd;  // look like a source but are not written as a key
};

/// Keys cited in a line of prose; a link's text, an index or a longer phrase is none.
Keys keys_in(const std::string& line) {
  static const std::regex bracket(R"((^|[^A-Za-z0-9_\])])\[([A-Z][^\[\]]*)\](?!\())");
  static const std::regex key("[A-Z][A-Z0-9]{2,}");
  static const std::regex nearly("[A-Z][A-Za-z ,-]*[0-9]+[a-z]?");
  Keys keys;
  for (auto at = std::sregex_iterator(line.begin(), line.end(), bracket); at != std::sregex_iterator();
       ++at) {
    const std::string text = (*at)[2];
    if (std::regex_match(text, key)) {
      keys.good.insert(text);
    } else if (std::regex_match(text, nearly)) {
      keys.odd.insert(text);
    }
  }
  return keys;
}

std::string comment_of(const std::string& line) {
  const std::size_t at = line.find("//");
  return at == std::string::npos ? std::string() : line.substr(at);
}

struct Citations {
  std::map<std::string, std::string> places;  // key -> a place that cites it
  std::vector<std::string> odd;

  void note(const fs::path& file, const std::vector<std::string>& lines) {
    for (std::size_t row = 0; row < lines.size(); ++row) {
      const std::string place = fs::relative(file, docs::root()).string() + ":" + std::to_string(row + 1);
      const Keys keys = keys_in(lines[row]);
      for (const std::string& key : keys.good) {
        places.emplace(key, place);
      }
      for (const std::string& key : keys.odd) {
        odd.push_back(place + ": [" + key + "]");
      }
    }
  }
};

Citations citations() {
  Citations all;
  for (const char* folder : {"lib", "cli", "tests"}) {
    for (const fs::path& file : docs::files_in(folder, {".hpp", ".cpp"})) {
      std::vector<std::string> lines = docs::lines_of(file);
      std::transform(lines.begin(), lines.end(), lines.begin(), comment_of);
      all.note(file, lines);
    }
  }
  for (const fs::path& page : docs::pages()) {
    if (page.filename() != "sources.md") {
      all.note(page, docs::prose_of(page));
    }
  }
  for (const fs::path& file : docs::files_in("fixtures", {"case.txt", ".md"})) {
    all.note(file, docs::lines_of(file));
  }
  return all;
}

std::vector<std::string> listed() {
  static const std::regex entry(R"(- \[([A-Z][A-Z0-9]{2,})\] .{20,})");
  std::vector<std::string> keys;
  for (const std::string& line : docs::lines_of(docs::root() / "docs/sources.md")) {
    std::smatch match;
    if (std::regex_match(line, match, entry)) {
      keys.push_back(match[1]);
    }
  }
  return keys;
}

}  // namespace

TEST_CASE("a key is three or more capitals and digits in brackets, not a link, an index or a phrase",
          "[docs]") {
  const std::string open = "[";  // so that this file cites nothing
  CHECK(keys_in("after " + open + "GUM] G.3 and " + open + "NIST811].").good ==
        std::set<std::string>{"GUM", "NIST811"});
  CHECK(keys_in(open + "GUM](x.md) a[NIX] " + open + "AB] " + open + "Not a key]").good.empty());
  CHECK(keys_in(open + "Smith 2013] " + open + "Smith13] " + open + "SMITH-13]").odd ==
        std::set<std::string>{"Smith 2013", "Smith13", "SMITH-13"});
}

TEST_CASE("every source key that is cited is listed once in docs/sources.md, and every listed one is cited",
          "[docs]") {
  const Citations all = citations();
  const std::vector<std::string> keys = listed();
  const std::set<std::string> once(keys.begin(), keys.end());
  std::vector<std::string> wrong;
  for (const std::string& place : all.odd) {
    wrong.push_back(place + " is not a key: write it in capitals and digits");
  }
  for (const auto& [key, place] : all.places) {
    if (!once.contains(key)) {
      wrong.push_back(place + ": [" + key + "] has no line in docs/sources.md");
    }
  }
  for (const std::string& key : once) {
    if (!all.places.contains(key)) {
      wrong.push_back("[" + key + "] is listed and nowhere cited");
    }
  }
  CHECK(wrong == std::vector<std::string>{});
  CHECK(keys.size() == once.size());
  CHECK(keys.size() > 3);
}
