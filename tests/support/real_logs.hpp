#pragma once

#include <catch2/catch.hpp>

#include <filesystem>
#include <optional>
#include <string>

namespace bothways {

/// A folder of real logs in BOTHWAYS_SHARED_DATA (its README has the licences); nothing where it is missing:
/// then the test says so and returns, and ctest counts it as skipped (tests/CMakeLists.txt looks for the
/// first words). Tests that use it have the tag [reallog].
inline std::optional<std::filesystem::path> real_logs(const std::string& folder = ".") {
  std::filesystem::path path = std::filesystem::path(BOTHWAYS_SHARED_DATA) / folder;
  if (std::filesystem::is_directory(path)) {
    return path;
  }
  WARN("skipped, no real logs: there is no folder " << path.string());
  return std::nullopt;
}

}  // namespace bothways
