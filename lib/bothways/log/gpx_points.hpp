#pragma once

#include "bothways/log/draft.hpp"
#include "bothways/log/iso_clock.hpp"
#include "bothways/log/read.hpp"
#include "bothways/log/xml_pull.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace bothways {

/// What the reader cares about in a GPX file, the frequent ones first. `other` is any other name.
enum class GpxName { trkpt, time, ele, speed, course, hdop, sat, extensions, rtept, wpt, other };

/// Turns the elements of a GPX file into fixes. Knows nothing of the XML library.
///
/// A point is a trkpt, wherever it stands. Its direct children count, and speed and course at any depth in
/// its extensions; the first of each name wins.
class GpxPoints {
 public:
  /// @param bytes  of the file; 0: not known
  explicit GpxPoints(const ReadOptions& limits, std::size_t bytes = 0) : limits_(limits), bytes_(bytes) {}

  /// @return what it wants to be told of this element: of a point the position
  XmlWant open(GpxName name, std::size_t line);
  void set_lat(std::string_view text);
  void set_lon(std::string_view text);
  void text(std::string_view piece);
  void close(GpxName name);

  /// So many more bytes of the file were read.
  void add_used(std::size_t bytes) { used_ += bytes; }

  [[nodiscard]] bool full() const { return draft_.full; }

  /// The fixes, and the notes of what was left out.
  [[nodiscard]] Draft take_draft();
  [[nodiscard]] std::size_t untimed() const { return untimed_.count + bad_time_.count; }
  [[nodiscard]] std::size_t planned() const { return planned_; }  ///< route points and waypoints

 private:
  void open_child(GpxName name);
  void take_value(GpxName name);
  void take_time();
  void close_point();

  ReadOptions limits_;
  std::size_t bytes_;
  std::size_t used_ = 0;
  Draft draft_;
  IsoClock clock_;
  std::size_t depth_ = 0;  ///< 0: outside a point; 1: in the point itself
  bool in_extensions_ = false;
  GpxName wanted_ = GpxName::other;  ///< element whose text is collected
  std::string text_;
  bool too_long_ = false;
  Fix fix_;
  std::size_t line_ = 0;
  bool has_time_ = false;
  bool wrote_time_ = false;
  std::size_t planned_ = 0;
  Tally untimed_;
  Tally bad_time_;
  Tally no_zone_;
  Tally long_text_;
};

}  // namespace bothways
