#include "cli/page_support.hpp"

#include "cli/page/page_parts.hpp"

#include <catch2/catch.hpp>

using bothways::cli::Exit;

std::string page_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), "page");
  const Outcome outcome = call(arguments);
  INFO(outcome.err);
  REQUIRE(outcome.code == Exit::ok);
  return outcome.out;
}

Json data_of(const std::string& page) {
  const std::string open = "<script type=\"application/json\" id=\"data\">";
  const std::size_t from = page.find(open);
  REQUIRE(from != std::string::npos);
  const std::size_t start = from + open.size();
  return Json::parse(page.substr(start, page.find("</script>", start) - start));
}

Json json_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--format", "json"});
  return Json::parse(call(arguments).out);
}

const Json& named(const Json& rows, const std::string& name) {
  static const Json none;
  for (const Json& row : rows) {
    if (row["name"] == name) {
      return row;
    }
  }
  return none;
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
    ++found;
  }
  return found;
}

std::string without_parts(std::string page) {
  const auto parts = bothways::cli::page_parts();
  for (const std::string_view part : {parts->style, parts->runtime, parts->script}) {
    page.erase(page.find(part), part.size());
  }
  return page;
}

bool has_charts() {
  if (!bothways::cli::page_parts()) {
    WARN("built without its page (node-vega, esbuild), which is not tested");
    return false;
  }
  return true;
}
