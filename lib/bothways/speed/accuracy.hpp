#pragma once

#include "bothways/log/log.hpp"

#include <vector>

namespace bothways {

/// How much worse than usual the receiver says that each fix is, >= 1: by its own speed accuracy, else by its
/// position accuracy, else by hdop; 1 where half of the fixes or more have none of these.
[[nodiscard]] std::vector<double> worse_than_usual(const std::vector<const Fix*>& fixes);

}  // namespace bothways
