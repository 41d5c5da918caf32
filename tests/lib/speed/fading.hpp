#pragma once

#include "bothways/log/log.hpp"

namespace bothways {

/// The log of a receiver that smooths its speeds by this time constant at rest, evenly less the faster they
/// are, and by nothing from a speed on; its places are as they were.
[[nodiscard]] Log faded(Log log, double lag_s, double fades_by_mps);

}  // namespace bothways
