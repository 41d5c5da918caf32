#pragma once

#include "bothways/core/quantity.hpp"

#include <string>
#include <string_view>

namespace bothways {

/// A unit as people type it. The one table of them serves quantities and splits.
struct UnitName {
  std::string_view name;  ///< as plain_unit_name() makes it
  Dimension dimension = Dimension::ratio;
  double factor = 1.0;
  double offset = 0.0;          ///< SI = (value + offset) * factor
  std::string_view shown = {};  ///< of a speed or a length: in the name of a split
};

/// Small letters, without blanks, full stops, hyphens and a degree sign before them.
[[nodiscard]] std::string plain_unit_name(std::string_view text);

/// @return nullptr if the dimension has no unit of that name
[[nodiscard]] const UnitName* find_unit(std::string_view plain_name, Dimension dimension);

}  // namespace bothways
