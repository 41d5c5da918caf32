#pragma once

#include "bothways/pair/effect.hpp"
#include "bothways/report/compared.hpp"

#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// The conditions of a side, if all its logs with runs have the same; else nothing.
[[nodiscard]] std::optional<Conditions> conditions_of(const Side& side);

/// What the conditions of one comparison may explain of its main split; a note beside the difference, never
/// taken off it.
struct ExpectedOf {
  std::string after;  ///< name of the side
  std::string split;  ///< name of the main split
  std::vector<ExpectedPart> parts;
};

/// One for each comparison that has something to tell.
[[nodiscard]] std::vector<ExpectedOf> expected_of(const Compared& compared);

/// True if any side has conditions that differ from log to log, so that nothing is worked out from them.
[[nodiscard]] bool has_mixed_conditions(const Compared& compared);

}  // namespace bothways
