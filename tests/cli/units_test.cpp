// Text is in the units of the place; files are the same everywhere.
#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

std::string at_metric_place(const std::vector<std::string>& arguments) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  (void)run(arguments, {.in = in, .out = out, .err = err, .metric = true});
  return out.str();
}

}  // namespace

TEST_CASE("the locale says whether speeds are in km/h", "[cli]") {
  for (const char* locale : {"de_DE.UTF-8", "fr_CH", "en_IE.UTF-8", "en_AU", "ja_JP.utf8"}) {
    CAPTURE(locale);
    CHECK(is_metric_locale(locale));
  }
  for (const char* locale : {"", "C", "C.UTF-8", "POSIX", "en_US.UTF-8", "en_GB", "es_PR", "de", "de_"}) {
    CAPTURE(locale);
    CHECK_FALSE(is_metric_locale(locale));
  }
}

TEST_CASE("text is in the units of the place unless others are asked, files are not", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  CHECK_THAT(at_metric_place({"fixtures/moped"}), Contains("0-40 km/h") && !Contains("0-25 mph"));
  CHECK_THAT(at_metric_place({"fixtures/moped", "--units", "us"}), Contains("0-25 mph"));
  for (const char* format : {"csv", "json", "jsonl"}) {
    CAPTURE(format);
    CHECK(at_metric_place({"fixtures/moped", "--format", format}) ==
          call({"fixtures/moped", "--format", format}).out);
  }
  for (const char* word : {"metric", "kph", "km/h", "kmh", "KMH", "km"}) {
    CAPTURE(word);
    CHECK_THAT(call({"fixtures/moped", "--units", word}).out, Contains("0-40 km/h"));
  }
  for (const char* word : {"MPH", "mi/h", "miles", "US"}) {
    CAPTURE(word);
    CHECK_THAT(call({"fixtures/moped", "--units", word}).out, Contains("0-25 mph"));
  }
  CHECK(call({"fixtures/moped", "--units", "furlongs"}).code == Exit::usage);
}

TEST_CASE("all speeds of a text are in the units of the splits asked, unless others are", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::vector<std::string> kmh{"runs", "fixtures/moped", "--splits", "0-20 km/h, 0-40 km/h"};
  CHECK_THAT(call(kmh).out, Contains("top km/h") && !Contains("mph"));
  CHECK_THAT(at_metric_place({"runs", "fixtures/moped", "--splits", "0-20 mph"}),
             Contains("top mph") && !Contains("km/h"));
  std::vector<std::string> both = kmh;
  both.insert(both.end(), {"--units", "mph"});
  CHECK_THAT(call(both).out, Contains("0-40 km/h") && Contains("top mph"));
  CHECK_THAT(call({"runs", "fixtures/moped", "--splits", "0-20 km/h, 0-20 mph"}).out, Contains("top mph"));
  CHECK_THAT(at_metric_place({"runs", "fixtures/moped", "--splits", "60 ft"}), Contains("top km/h"));
}
