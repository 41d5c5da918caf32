#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/run/find.hpp"
#include "bothways/run/ride.hpp"

#include <functional>
#include <optional>
#include <string>

namespace bothways::cli {

/// Where analyses of logs are remembered. All four may be called from several threads at once; a log is known
/// by what is in it, so `path` is read. What is not remembered is worked out as ever.
struct RideStore {
  /// look_at() of this log; its path is `path`.
  std::function<std::optional<Ride>(const std::string& path)> find_look;
  std::function<void(const std::string& path, const Ride& look)> keep_look;
  /// The runs with these options, and the notes of the run stage; nothing else is filled.
  std::function<std::optional<Ride>(const std::string& path, const RunOptions& options)> find_runs;
  std::function<void(const std::string& path, const RunOptions& options, const Ride& runs)> keep_runs;
};

}  // namespace bothways::cli
