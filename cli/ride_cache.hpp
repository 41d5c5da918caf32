#pragma once

#include "bothways/pair/logbook.hpp"
#include "cli/ride_store.hpp"

#include <memory>
#include <string>
#include <vector>

namespace bothways::cli {

/// Analyses of logs and parts of logbooks in an SQLite file, so that what did not change is not worked out
/// again.
///
/// A log is known by its bytes (XXH3 of 128 bits), a part of one by its times too, an analysis by the program
/// that made it and its options: another version never finds it. A file that is damaged or no cache is made
/// anew; one that cannot be used is done without, in silence, since it changes no figure. Entries are made
/// anew after half a year. Several processes may use one file. It holds thin tracks of the rides, so only its
/// owner may read it.
class RideCache {
 public:
  /// @param file   made with its folders where it is not there
  /// @param maker  what tells this program from others
  RideCache(const std::string& file, const std::string& maker);
  RideCache(const RideCache&) = delete;
  RideCache(RideCache&&) = delete;
  RideCache& operator=(const RideCache&) = delete;
  RideCache& operator=(RideCache&&) = delete;
  ~RideCache();

  /// Valid as long as this.
  [[nodiscard]] RideStore rides();
  /// Likewise. Rides are known by all that pairing and comparing see of them.
  [[nodiscard]] LogbookStore logbook(const std::vector<SplitSpec>& splits, Clock clock);
  /// Writes what was kept since.
  void save();

 private:
  class File;
  std::unique_ptr<File> file_;
};

/// What tells this program from others: a digest of its own bytes, or else its version.
[[nodiscard]] std::string this_program();

}  // namespace bothways::cli
