#include "bothways/core/usual_splits.hpp"

#include <array>
#include <span>

namespace bothways {

namespace {

/// Marks for starts that reach at least so much, in the unit of the marks.
struct Marks {
  double reach;
  const char* splits;
};

// Round numbers of the trade, no source; the highest mark is the speed in the first column or below it.
constexpr std::array<Marks, 10> mph{{{100.0, "0-30 mph, 0-60 mph, 0-100 mph, 60-100 mph"},
                                     {80.0, "0-30 mph, 0-60 mph, 0-80 mph, 50-80 mph"},
                                     {60.0, "0-30 mph, 0-50 mph, 0-60 mph, 30-60 mph"},
                                     {50.0, "0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph"},
                                     {40.0, "0-20 mph, 0-30 mph, 0-40 mph, 20-40 mph"},
                                     {30.0, "0-15 mph, 0-20 mph, 0-30 mph, 15-30 mph"},
                                     {25.0, "0-15 mph, 0-20 mph, 0-25 mph, 10-25 mph"},
                                     {20.0, "0-10 mph, 0-15 mph, 0-20 mph, 10-20 mph"},
                                     {15.0, "0-10 mph, 0-15 mph, 5-15 mph"},
                                     {10.0, "0-5 mph, 0-10 mph, 5-10 mph"}}};

constexpr std::array<Marks, 9> kmh{{{160.0, "0-50 km/h, 0-100 km/h, 0-160 km/h, 100-160 km/h"},
                                    {130.0, "0-50 km/h, 0-100 km/h, 0-130 km/h, 80-120 km/h"},
                                    {100.0, "0-50 km/h, 0-80 km/h, 0-100 km/h, 50-100 km/h"},
                                    {70.0, "0-30 km/h, 0-50 km/h, 0-70 km/h, 50-70 km/h"},
                                    {60.0, "0-30 km/h, 0-50 km/h, 0-60 km/h, 30-60 km/h"},
                                    {50.0, "0-20 km/h, 0-30 km/h, 0-50 km/h, 30-50 km/h"},
                                    {40.0, "0-20 km/h, 0-30 km/h, 0-40 km/h, 20-40 km/h"},
                                    {30.0, "0-15 km/h, 0-20 km/h, 0-30 km/h, 15-30 km/h"},
                                    {20.0, "0-10 km/h, 0-15 km/h, 0-20 km/h, 10-20 km/h"}}};

}  // namespace

std::vector<SplitSpec> usual_splits(double reach_mps, bool metric) {
  const double reach = reach_mps / (metric ? mps_per_kmh : mps_per_mph);
  for (const Marks& marks : metric ? std::span<const Marks>(kmh) : std::span<const Marks>(mph)) {
    if (reach >= marks.reach) {
      return parse_splits(marks.splits);
    }
  }
  return default_splits(metric);
}

}  // namespace bothways
