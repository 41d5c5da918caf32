#pragma once

#include "bothways/core/units.hpp"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace bothways {

/// A point of a run at which a time is taken: a speed or a distance from the start.
using Mark = std::variant<Speed, Length>;

/// What a split is asked between. A run from rest starts at Speed 0 (or Length 0): its clock start.
struct SplitSpec {
  std::string name;  ///< as the trade writes it: "0-30 mph", "30-50 mph", "60 ft", "100-200 m", "1/4 mi"
  Mark from;         ///< Speed 0 or Length 0 for a split from rest
  Mark to;           ///< same kind as `from`, greater

  [[nodiscard]] bool from_rest() const;
};

/// Reads a list with , or ; between: `0-30 mph, 60 ft, 1/4 mi, 0-100 m`; `60 mph` means `0-60 mph`. Units
/// stand in core/unit_names.cpp. What lies within the first foot, before the clock starts, is refused.
/// An item without a unit takes that of the next, `0-30, 0-50 km/h`. Names come out in one spelling ("0-30
/// mph"), repeats are dropped, order is kept.
/// @throws std::invalid_argument  with one sentence that says what is wrong and gives an example.
[[nodiscard]] std::vector<SplitSpec> parse_splits(std::string_view text);

/// The splits when none are asked. mph: 0-30, 0-40, 0-50, 30-50 mph; km/h: 0-30, 0-50, 0-70, 50-70 km/h.
[[nodiscard]] std::vector<SplitSpec> default_splits(bool metric);

}  // namespace bothways
