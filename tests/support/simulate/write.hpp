#pragma once

#include "bothways/log/log.hpp"

#include <string>

namespace bothways::sim {

struct NmeaStyle {
  int knot_decimals = 3;
  int minute_decimals = 5;  ///< of latitude and longitude
  int gga_every = 1;        ///< a GGA sentence with every so-many-th fix; 0: none
  bool gst = false;         ///< with position sd, beside GGA
};

enum class GpxSpeed {
  none,       ///< GPX 1.1 without speed
  element,    ///< GPX 1.0, <speed>
  extension,  ///< GPX 1.1, <extensions><speed>
};

struct GpxStyle {
  GpxSpeed speed = GpxSpeed::extension;
  int degree_decimals = 7;
  int speed_decimals = 2;
};

/// The log as NMEA 0183 sentences (RMC, GGA, GST), CR LF. Fixes need positions.
[[nodiscard]] std::string to_nmea(const Log& log, const NmeaStyle& style = {});
/// The log as one GPX track. `name` stands in <name>.
[[nodiscard]] std::string to_gpx(const Log& log, const std::string& name, const GpxStyle& style = {});
/// The log as CSV: time,lat,lon,speed_mps[,speed_accuracy_mps][,channels].
[[nodiscard]] std::string to_csv(const Log& log, int speed_decimals = 3);
/// The log as one TCX activity, speeds in m/s with 8 decimals.
[[nodiscard]] std::string to_tcx(const Log& log);
/// The log as one KML track: all times, all places, all speeds.
[[nodiscard]] std::string to_kml(const Log& log);
/// The log that the readers make of these bytes. @throws LogError  if they cannot.
[[nodiscard]] Log read_back(const std::string& bytes);
/// The bytes as one gzip member without name and time. @throws std::runtime_error if zlib fails.
[[nodiscard]] std::string gzipped(const std::string& bytes);
/// The bytes of one gzip member. @throws std::runtime_error if they are none.
[[nodiscard]] std::string gunzipped(const std::string& bytes);

}  // namespace bothways::sim
