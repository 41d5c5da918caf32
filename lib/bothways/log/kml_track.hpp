#pragma once

#include "bothways/log/csv_names.hpp"
#include "bothways/log/xml_points.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// What the reader cares about in a KML file, the frequent ones first. `other` is any other name.
enum class KmlName { when, coord, value, array, track, coordinates, other };

/// Turns the elements of KML into points. A track [KML23] (gx:Track before version 2.3) has a list of times,
/// `when`, a list of places, `coord`, and lists of further values, `SimpleArrayData`: the first time belongs
/// to the first place, and so on. The lists stay in memory until the track ends.
class KmlTrack {
 public:
  /// @param longest  of a list this many entries are kept, and one more that shows that there are more
  KmlTrack(XmlPoints& points, std::size_t longest) : points_(points), longest_(longest) {}

  XmlWant open(KmlName name, std::size_t line);
  /// Name of the list of values that begins.
  void name_values(std::string_view name);
  void close(KmlName name);
  /// The file ends: so does a track that is open.
  void finish();
  void add_notes(std::vector<Note>& notes) const;

  [[nodiscard]] std::size_t planned() const { return planned_; }  ///< places and paths outside a track

 private:
  struct Time {
    PointTime time;
    std::size_t line = 0;
  };
  struct Place {
    double lat_deg = unknown;
    double lon_deg = unknown;
    double ele_m = unknown;
    std::size_t line = 0;
  };

  void take_value(KmlName name);
  void take_place(std::string_view text);

  XmlPoints& points_;
  std::size_t longest_;
  std::size_t tracks_ = 0;  ///< depth of elements of that name
  std::size_t line_ = 0;
  KmlName wanted_ = KmlName::other;
  CsvRole role_ = CsvRole::channel;  ///< of the list of values at hand
  std::vector<Time> times_;
  std::vector<Place> places_;
  std::vector<double> speeds_mps_;
  std::string unread_speed_;
  std::size_t planned_ = 0;
};

}  // namespace bothways
