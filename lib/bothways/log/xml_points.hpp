#pragma once

#include "bothways/log/draft.hpp"
#include "bothways/log/iso_clock.hpp"
#include "bothways/log/read.hpp"
#include "bothways/log/xml_pull.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace bothways {

/// A time as a point has it.
struct PointTime {
  std::optional<ParsedTime> parsed;
  bool written = false;  ///< there is something, readable or not
};

/// Collects the points of an XML log, whatever its elements are called: the text of the element at hand, the
/// point at hand, and the fixes with what was left out.
class XmlPoints {
 public:
  /// @param bytes  of the file; 0: not known
  explicit XmlPoints(const ReadOptions& options, std::size_t bytes = 0) : options_(options), bytes_(bytes) {}

  void clear_text() {
    text_.clear();
    too_long_ = false;
  }
  void add_text(std::string_view piece);
  /// The text as far as it is short enough to be a figure; else it is counted as too long, and empty.
  [[nodiscard]] std::string_view take_text();

  /// A point begins in this line.
  void begin(std::size_t line);
  [[nodiscard]] Fix& fix() { return fix_; }
  [[nodiscard]] PointTime read_time(std::string_view text);
  /// The first time that can be read counts.
  void set_time(const PointTime& time);
  /// The point is complete: it is kept if it has a time.
  void end();

  /// So many more bytes of the file were read.
  void add_used(std::size_t bytes) { used_ += bytes; }
  [[nodiscard]] bool full() const { return draft_.full; }
  [[nodiscard]] std::size_t untimed() const { return untimed_.count + bad_time_.count; }
  /// The fixes, and the notes of what was left out.
  [[nodiscard]] Draft take_draft();

 private:
  ReadOptions options_;
  std::size_t bytes_;
  std::size_t used_ = 0;
  Draft draft_;
  IsoClock clock_;
  std::string text_;
  bool too_long_ = false;
  Fix fix_;
  std::size_t line_ = 0;
  bool has_time_ = false;
  bool wrote_time_ = false;
  Tally untimed_;
  Tally bad_time_;
  Tally no_zone_;
  Tally long_text_;
};

/// The source, its bytes counted by `points`, which must outlive it.
[[nodiscard]] ByteSource counted(const ByteSource& source, XmlPoints& points);

/// For an XML log without any point that can be used.
/// @throws LogError  if that is because none has a time, or because the file broke or ended before
void refuse_unusable(const std::string& name, const XmlPoints& points, const XmlOutcome& outcome);

/// Sets a figure that is not known yet; it stays so if the text is none.
void keep_first(double& value, std::string_view text);

}  // namespace bothways
