#pragma once

#include "support/simulate/truth.hpp"

#include <filesystem>

namespace bothways::sim {

/// A ride made of a measured speed profile, so that real starts with a known truth can be logged by simulated
/// receivers: speed between the rows by a cubic without overshoot, on a straight road. Starts from rest that
/// gain at least run_mps before they lose 0.5 m/s are of kind run, the others of kind lifted.
/// @param path  CSV with a header line and the columns t_unix_s,speed_mps; rows in order of time.
/// @throws std::runtime_error  if the file cannot be read or holds fewer than two rows.
[[nodiscard]] Truth truth_of_profile(const std::filesystem::path& path, double run_mps);

}  // namespace bothways::sim
