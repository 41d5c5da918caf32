#include "cli/app.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

struct Outcome {
  Exit code = Exit::ok;
  std::string out;
  std::string err;
};

Outcome call(const std::vector<std::string>& arguments) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  const Exit code = run(arguments, {in, out, err});
  return {code, out.str(), err.str()};
}

}  // namespace

TEST_CASE("the program without arguments says how to use it", "[cli]") {
  const Outcome outcome = call({});
  CHECK(outcome.code == Exit::usage);
  CHECK(outcome.out.empty());
  CHECK_THAT(outcome.err, Contains("Usage: bothways"));
}

TEST_CASE("an unknown option is one sentence", "[cli]") {
  const Outcome outcome = call({"runs", "--colour", "x.gpx"});
  CHECK(outcome.code == Exit::usage);
  CHECK(outcome.err == "bothways runs: there is no option --colour; try 'bothways runs --help'\n");
}
