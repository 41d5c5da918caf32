#pragma once

#include "bothways/core/time.hpp"
#include "bothways/report/table.hpp"

#include <cstddef>
#include <iosfwd>
#include <string>

namespace bothways {

/// What stands once above the rows of a log.
struct RowsHead {
  std::string path;       ///< of the log; "-" is standard input
  std::string more;       ///< half a sentence about the whole log; may be empty
  int time_decimals = 3;  ///< 0..3, decimals of a second that its times need
};

/// Decimals of a second, 0 to 3, that this time needs when written to the millisecond.
[[nodiscard]] int decimals_needed(Instant at);

/// A long table for people, written in parts. The first column holds times, dated or not:
/// log and day stand once above the rows, and the rows have the time of day. The columns `log` and `source`
/// are not shown.
class LongText {
 public:
  /// @param width  columns
  explicit LongText(std::ostream& out, std::size_t width = 80) : out_(&out), width_(width) {}

  /// @param part  rows in order of time, all of one log; a new day gets a new line above it
  void add(const Table& part, const RowsHead& head);

 private:
  void begin_block(const std::string& head);

  std::ostream* out_;
  std::size_t width_;
  std::string told_;  ///< the line that stands above now
};

}  // namespace bothways
