#include "bothways/core/error.hpp"
#include "bothways/log/readers.hpp"
#include "bothways/log/xml_points.hpp"

#include <array>

namespace bothways {

namespace {

// Training Center Database, version 2 [TCX2]: activities hold laps, laps tracks, tracks points. A course
// holds a track, too, with times that were planned.
enum class TcxName { point, time, lat, lon, ele, speed, courses, other };

/// In the order of TcxName.
constexpr std::array tcx_names = {"Trackpoint",     "Time",  "LatitudeDegrees", "LongitudeDegrees",
                                  "AltitudeMeters", "Speed", "Courses"};
static_assert(tcx_names.size() == static_cast<std::size_t>(TcxName::other));

/// Turns the elements into points. Within a point each name means one thing at any depth: the position stands
/// in `Position`, the speed (m/s) in `Extensions`.
class TcxPoints {
 public:
  explicit TcxPoints(XmlPoints& points) : points_(points) {}

  XmlWant open(TcxName name, std::size_t line) {
    wanted_ = TcxName::other;
    if (name == TcxName::courses) {
      ++courses_;
    } else if (name == TcxName::point && courses_ > 0) {
      ++planned_;
    } else if (name == TcxName::point && !inside_) {
      inside_ = true;
      points_.begin(line);
    } else if (inside_ && name != TcxName::other) {
      wanted_ = name;
      points_.clear_text();
      return XmlWant::text;
    }
    return XmlWant::nothing;
  }

  void close(TcxName name) {
    if (name == TcxName::courses && courses_ > 0) {
      --courses_;
    } else if (inside_ && name == TcxName::point) {
      inside_ = false;
      points_.end();
    } else if (inside_ && wanted_ == name) {
      take_value(name);
    }
    wanted_ = TcxName::other;
  }

  [[nodiscard]] std::size_t planned() const { return planned_; }

 private:
  void take_value(TcxName name) {
    const std::string_view text = points_.take_text();
    Fix& fix = points_.fix();
    switch (name) {
      case TcxName::time:
        return points_.set_time(points_.read_time(text));
      case TcxName::lat:
        return keep_first(fix.lat_deg, text);
      case TcxName::lon:
        return keep_first(fix.lon_deg, text);
      case TcxName::ele:
        return keep_first(fix.ele_m, text);
      case TcxName::speed:
        return keep_first(fix.speed_mps, text);
      default:
        return;
    }
  }

  XmlPoints& points_;
  std::size_t courses_ = 0;  ///< depth of elements of that name
  bool inside_ = false;      ///< a point
  TcxName wanted_ = TcxName::other;
  std::size_t planned_ = 0;
};

}  // namespace

bool claims_tcx(std::string_view head) {
  return xml_root(head) == "TrainingCenterDatabase";
}

Draft read_tcx(const ReaderInput& input) {
  XmlPoints points(input.options, input.bytes);
  TcxPoints tcx(points);
  const XmlVisitor visitor{
      tcx_names,
      {},
      [&](std::size_t name, std::size_t line) { return tcx.open(static_cast<TcxName>(name), line); },
      [](std::size_t /*which*/, std::string_view /*value*/) {},
      [&](std::string_view piece) { points.add_text(piece); },
      [&](std::size_t name) {
        tcx.close(static_cast<TcxName>(name));
        return !points.full();
      }};
  const XmlOutcome outcome = pull_xml(counted(input.source, points), visitor);
  Draft draft = points.take_draft();
  add_xml_notes(outcome, draft.notes);
  if (!draft.fixes.empty()) {
    return draft;
  }
  refuse_unusable(input.name, points, outcome);
  if (tcx.planned() > 0) {
    throw LogError(input.name, 0, "it holds a planned course but no activity; give the log of a ride");
  }
  throw LogError(input.name, 0, "it is a TCX file without any track point; give the log of a ride");
}

}  // namespace bothways
