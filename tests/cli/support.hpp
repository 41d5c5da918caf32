#pragma once

#include "bothways/core/time.hpp"
#include "cli/app.hpp"

#include <filesystem>
#include <string>
#include <vector>

/// A log with runs, below BOTHWAYS_SOURCE_DIR.
inline constexpr const char* demo_log = "fixtures/demo/mill-lane.nmea.gz";

/// What a run of the program in process gave.
struct Outcome {
  bothways::cli::Exit code = bothways::cli::Exit::ok;
  std::string out;
  std::string err;
};

/// Runs the program in process.
/// @param config_path  empty: no config file
/// @param cache_path   empty: nothing is remembered
[[nodiscard]] Outcome call(const std::vector<std::string>& arguments, const std::string& in = "",
                           const std::string& config_path = "", const std::string& cache_path = "");

/// Works in another folder for its life.
class InFolder {
 public:
  explicit InFolder(const std::filesystem::path& folder);
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;
  ~InFolder();

 private:
  std::filesystem::path before_;
};

/// A new empty folder that is removed at the end of its life.
class TemporaryFolder {
 public:
  TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder();

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// Writes a file there and returns its path.
  [[nodiscard]] std::string file(const std::string& name, const std::string& content) const;

 private:
  std::filesystem::path path_;
};

/// "2026-05-04T09:30:00Z"
[[nodiscard]] inline bothways::Instant at_utc(const char* text) {
  return bothways::parse_iso8601(text).value().instant;
}

/// A sentence of the error stream as it was before its lines were broken.
[[nodiscard]] std::string one_line(std::string text);

/// The bytes of a file, empty if there is none.
[[nodiscard]] std::string bytes_of(const std::filesystem::path& path);
