#include "bothways/core/error.hpp"
#include "bothways/log/gpx_points.hpp"
#include "bothways/log/readers.hpp"
#include "bothways/log/xml_pull.hpp"

#include <array>

namespace bothways {

namespace {

/// In the order of GpxName.
constexpr std::array names = {"trkpt", "time", "ele",        "speed", "course",
                              "hdop",  "sat",  "extensions", "rtept", "wpt"};
static_assert(names.size() == static_cast<std::size_t>(GpxName::other));
constexpr std::array attributes = {"lat", "lon"};

}  // namespace

bool claims_gpx(std::string_view head) {
  return xml_root(head) == "gpx";
}

Draft read_gpx(const ReaderInput& input) {
  GpxPoints points(input.options, input.bytes);
  const XmlVisitor visitor{
      names,
      attributes,
      [&](std::size_t name, std::size_t line) { return points.open(static_cast<GpxName>(name), line); },
      [&](std::size_t which, std::string_view value) {
        which == 0 ? points.set_lat(value) : points.set_lon(value);
      },
      [&](std::string_view piece) { points.text(piece); },
      [&](std::size_t name) {
        points.close(static_cast<GpxName>(name));
        return !points.full();
      }};
  const XmlOutcome outcome = pull_xml(
      [&](std::span<char> into) {
        const std::size_t got = input.source(into);
        points.add_used(got);
        return got;
      },
      visitor);
  Draft draft = points.take_draft();
  add_xml_notes(outcome, draft.notes);
  if (!draft.fixes.empty()) {
    return draft;
  }
  if (points.untimed() > 0) {
    throw LogError(input.name, 0,
                   "none of its track points has a time that can be read, so no speed can be worked out; "
                   "record the ride with times");
  }
  refuse_if_broken(outcome, input.name, "track point");
  if (points.planned() > 0) {
    throw LogError(input.name, 0,
                   "it holds a planned route or waypoints but no recorded track; give the log of a ride");
  }
  throw LogError(input.name, 0, "it is a GPX file without any track point; give the log of a ride");
}

}  // namespace bothways
