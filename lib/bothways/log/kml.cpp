#include "bothways/core/error.hpp"
#include "bothways/log/kml_track.hpp"
#include "bothways/log/readers.hpp"
#include "bothways/log/xml_points.hpp"

#include <array>

namespace bothways {

namespace {

/// In the order of KmlName.
constexpr std::array kml_names = {"when", "coord", "value", "SimpleArrayData", "Track", "coordinates"};
static_assert(kml_names.size() == static_cast<std::size_t>(KmlName::other));
constexpr std::array kml_attributes = {"name"};

}  // namespace

bool claims_kml(std::string_view head) {
  return xml_root(head) == "kml";
}

Draft read_kml(const ReaderInput& input) {
  XmlPoints points(input.options, input.bytes);
  KmlTrack track(points, input.options.fixes);
  const XmlVisitor visitor{
      kml_names,
      kml_attributes,
      [&](std::size_t name, std::size_t line) { return track.open(static_cast<KmlName>(name), line); },
      [&](std::size_t /*which*/, std::string_view value) { track.name_values(value); },
      [&](std::string_view piece) { points.add_text(piece); },
      [&](std::size_t name) {
        track.close(static_cast<KmlName>(name));
        return !points.full();
      }};
  const XmlOutcome outcome = pull_xml(counted(input.source, points), visitor);
  track.finish();
  Draft draft = points.take_draft();
  add_xml_notes(outcome, draft.notes);
  track.add_notes(draft.notes);
  if (!draft.fixes.empty()) {
    return draft;
  }
  refuse_unusable(input.name, points, outcome);
  throw LogError(input.name, 0,
                 track.planned() > 0
                     ? "it holds places or a path, but no track with times (gx:Track); export the ride "
                       "as GPX, or as KML with its times"
                     : "it is a KML file without any track (gx:Track); give the log of a ride");
}

}  // namespace bothways
