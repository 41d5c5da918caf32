#include "bothways/core/error.hpp"
#include "bothways/log/gpx_points.hpp"
#include "bothways/log/readers.hpp"

#include <array>

namespace bothways {

namespace {

/// In the order of GpxName.
constexpr std::array gpx_names = {"trkpt", "time", "ele",        "speed", "course",
                                  "hdop",  "sat",  "extensions", "rtept", "wpt"};
static_assert(gpx_names.size() == static_cast<std::size_t>(GpxName::other));
constexpr std::array gpx_attributes = {"lat", "lon"};

}  // namespace

bool claims_gpx(std::string_view head) {
  return xml_root(head) == "gpx";
}

Draft read_gpx(const ReaderInput& input) {
  XmlPoints points(input.options, input.bytes);
  GpxPoints gpx(points);
  const XmlVisitor visitor{
      gpx_names,
      gpx_attributes,
      [&](std::size_t name, std::size_t line) { return gpx.open(static_cast<GpxName>(name), line); },
      [&](std::size_t which, std::string_view value) {
        which == 0 ? gpx.set_lat(value) : gpx.set_lon(value);
      },
      [&](std::string_view piece) { points.add_text(piece); },
      [&](std::size_t name) {
        gpx.close(static_cast<GpxName>(name));
        return !points.full();
      }};
  const XmlOutcome outcome = pull_xml(counted(input.source, points), visitor);
  Draft draft = points.take_draft();
  add_xml_notes(outcome, draft.notes);
  if (!draft.fixes.empty()) {
    return draft;
  }
  refuse_unusable(input.name, points, outcome);
  if (gpx.planned() > 0) {
    throw LogError(input.name, 0,
                   "it holds a planned route or waypoints but no recorded track; give the log of a ride");
  }
  throw LogError(input.name, 0, "it is a GPX file without any track point; give the log of a ride");
}

}  // namespace bothways
