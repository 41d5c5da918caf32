#include "support/simulate/profile.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <stdexcept>

using namespace bothways;
using namespace bothways::sim;
using Catch::Matchers::WithinAbs;

TEST_CASE("a measured profile becomes a ride with its starts", "[simulate]") {
  const auto path = std::filesystem::temp_directory_path() / "bothways_profile_test.csv";
  {
    std::ofstream out(path);
    out.precision(14);
    out << "t_unix_s,speed_mps\n";
    for (int i = 0; i < 100; ++i) {  // 4 s at rest, 2 m/s^2 for 5 s, steady, then down to rest
      const double t_s = 0.2 * i;
      const double v_mps = t_s < 4.0 ? 0.01 : t_s < 9.0 ? 2.0 * (t_s - 4.0) : t_s < 12.0 ? 10.0 : 0.0;
      out << 1e9 + t_s << ',' << v_mps << '\n';
    }
  }
  const Truth truth = truth_of_profile(path, 5.0);
  std::filesystem::remove(path);
  REQUIRE(truth.starts.size() == 1);
  const TrueStart& start = truth.starts[0];
  CHECK(start.kind == StartKind::run);
  CHECK_THAT(start.movement_s, WithinAbs(4.0, 1e-6));
  CHECK_THAT(crossing_s(truth, start, Speed::from_mps(5.0)).value(), WithinAbs(6.5, 1e-3));
  CHECK_THAT(crossing_s(truth, start, Length::from_m(9.0)).value(), WithinAbs(7.0, 0.02));
}

TEST_CASE("no profile in a file is an error", "[simulate]") {
  CHECK_THROWS_AS(truth_of_profile("/nowhere/truth.csv", 5.0), std::runtime_error);
}
