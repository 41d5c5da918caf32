#pragma once

#include "bothways/log/xml_points.hpp"
#include "bothways/log/xml_pull.hpp"

#include <cstddef>
#include <string_view>

namespace bothways {

/// What the reader cares about in a GPX file, the frequent ones first. `other` is any other name.
enum class GpxName { trkpt, time, ele, speed, course, hdop, sat, extensions, rtept, wpt, other };

/// Turns the elements of a GPX file into points. Knows nothing of the XML library.
///
/// A point is a trkpt, wherever it stands. Its direct children count, and speed and course at any depth in
/// its extensions; the first of each name wins.
class GpxPoints {
 public:
  explicit GpxPoints(XmlPoints& points) : points_(points) {}

  /// @return what it wants to be told of this element: of a point the position
  XmlWant open(GpxName name, std::size_t line);
  void set_lat(std::string_view text) { keep_first(points_.fix().lat_deg, text); }
  void set_lon(std::string_view text) { keep_first(points_.fix().lon_deg, text); }
  void close(GpxName name);

  [[nodiscard]] std::size_t planned() const { return planned_; }  ///< route points and waypoints

 private:
  void open_child(GpxName name);
  void take_value(GpxName name);

  XmlPoints& points_;
  std::size_t depth_ = 0;  ///< 0: outside a point; 1: in the point itself
  bool in_extensions_ = false;
  GpxName wanted_ = GpxName::other;  ///< element whose text is collected
  std::size_t planned_ = 0;
};

}  // namespace bothways
