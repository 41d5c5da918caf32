#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/core/time.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace bothways::sim {

/// How near a figure must come: within seconds, and within so many of its own sd (0: not asked).
struct Within {
  double seconds = 0.0;
  double sds = 0.0;
};

struct CaseInstant {
  int run = 0;  ///< 1-based, in order of time within the log
  Instant time;
  Within within;
};

struct CaseSplit {
  int run = 0;
  std::string name;
  double time_s = 0.0;
  Within within;
};

struct CaseRejected {
  Instant time;
  std::vector<std::string> codes;  ///< any of them will do
};

/// What is known true of one log.
struct CaseLog {
  std::string file;  ///< below the case's folder
  int runs = 0;
  std::vector<CaseInstant> launches;  ///< first movement
  std::vector<CaseInstant> clocks;    ///< after one foot of travel
  std::vector<CaseSplit> splits;
  std::vector<CaseRejected> rejected;
};

struct CaseTwoWay {
  std::string file;
  int run = 0;
  std::string other_file;
  int other_run = 0;
  std::string name;
  double time_s = 0.0;
  Within within;
};

/// Difference of the sides before/ and after/.
struct CaseChange {
  std::string name;
  double difference_s = 0.0;
  Within within;
};

/// One case.txt: birth certificate and truth of the logs in its folder. Form: fixtures/README.md.
struct Case {
  std::filesystem::path folder;
  std::string title;
  std::string origin;
  std::string licence;
  std::string splits;
  std::vector<CaseLog> logs;
  std::optional<int> pairs;
  std::vector<CaseTwoWay> two_ways;
  std::vector<CaseChange> changes;
};

/// @throws std::runtime_error  naming file, line and what is wrong.
[[nodiscard]] Case read_case(const std::filesystem::path& path);

/// Paths of every case.txt one folder below `root`, sorted.
[[nodiscard]] std::vector<std::filesystem::path> find_cases(const std::filesystem::path& root);

}  // namespace bothways::sim
