#include "bothways/core/usual_splits.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <variant>

using namespace bothways;

namespace {

double highest_mps(const std::vector<SplitSpec>& splits) {
  double highest = 0.0;
  for (const SplitSpec& split : splits) {
    highest = std::max(highest, std::get<Speed>(split.to).mps());
  }
  return highest;
}

bool has(const std::vector<SplitSpec>& splits, const char* name) {
  return std::any_of(splits.begin(), splits.end(),
                     [&](const SplitSpec& split) { return split.name == name; });
}

}  // namespace

TEST_CASE("the usual splits end at or below what the starts reach, and not far below", "[core]") {
  for (const bool metric : {false, true}) {
    for (double reach = metric ? 20.0 : 10.0; reach < 200.0; reach += 0.5) {
      CAPTURE(metric, reach);
      const double reach_mps = reach * (metric ? mps_per_kmh : mps_per_mph);
      const auto splits = usual_splits(reach_mps, metric);
      CHECK(highest_mps(splits) <= reach_mps * (1.0 + 1e-9));
      CHECK(highest_mps(splits) > 0.49 * reach_mps);
      const auto rolling =
          std::count_if(splits.begin(), splits.end(), [](const SplitSpec& s) { return !s.from_rest(); });
      CHECK(rolling == 1);
      CHECK((splits.size() == 3 || splits.size() == 4));
    }
  }
}

TEST_CASE("a fast car gets its marks, and who reaches nothing the usual ones", "[core]") {
  CHECK(has(usual_splits(70.0 * mps_per_mph, false), "0-60 mph"));
  CHECK(has(usual_splits(110.0 * mps_per_kmh, true), "0-100 km/h"));
  CHECK(has(usual_splits(0.0, false), "0-30 mph"));
  CHECK(has(usual_splits(1.0, true), "0-50 km/h"));
}
