#include "bothways/core/units.hpp"

#include <catch2/catch.hpp>

using namespace bothways;

TEST_CASE("unit factors are those of NIST SP 811", "[core]") {
  // docs/sources.md [NIST811], appendix B.8.
  CHECK(Speed::from_mph(30).mps() == 13.4112);
  CHECK(Speed::from_mph(50).mps() == 22.352);
  CHECK(Speed::from_kmh(36).mps() == 10.0);
  CHECK(Speed::from_knots(3600).mps() == 1852.0);
  CHECK(m_per_foot == 0.3048);
  CHECK(0.25 * m_per_mile == 402.336);
}
