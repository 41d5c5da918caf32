#include "bothways/log/readers.hpp"

#include <algorithm>
#include <array>

namespace bothways {

namespace {

std::string lacks_nothing(std::string_view /*head*/) {
  return {};
}

constexpr std::array table = {
    Reader{LogFormat::gpx, "gpx", "GPX", true, claims_gpx, lacks_nothing, read_gpx},
    Reader{LogFormat::tcx, "tcx", "TCX", true, claims_tcx, lacks_nothing, read_tcx},
    Reader{LogFormat::kml, "kml", "KML", true, claims_kml, lacks_nothing, read_kml},
    Reader{LogFormat::csv, "csv", "CSV", false, claims_csv, lacks_csv, read_csv},
    Reader{LogFormat::nmea, "nmea", "NMEA", false, claims_nmea, lacks_nmea, read_nmea},
};

}  // namespace

std::span<const Reader> readers() {
  return table;
}

const char* to_string(LogFormat format) {
  const auto* row =
      std::find_if(table.begin(), table.end(), [=](const Reader& reader) { return reader.format == format; });
  return row == table.end() ? "" : row->key;
}

std::string format_names() {
  std::string all;
  for (std::size_t i = 0; i < table.size(); ++i) {
    all += i == 0 ? "" : (i + 1 == table.size() ? " or " : ", ");
    all += table[i].name;
  }
  return all;
}

}  // namespace bothways
