#pragma once

// log/ reads the bytes of a file of GPX, NMEA 0183 or CSV into fixes in order of time.

#include "bothways/core/geodesy.hpp"
#include "bothways/core/note.hpp"
#include "bothways/core/time.hpp"

#include <cmath>
#include <limits>
#include <string>
#include <vector>

namespace bothways {

enum class LogFormat { gpx, nmea, csv, tcx, kml };

/// "gpx", "nmea" and so on: the word of the output contract.
[[nodiscard]] const char* to_string(LogFormat format);

/// "GPX, TCX, KML, CSV or NMEA": all formats, for sentences.
[[nodiscard]] std::string format_names();

/// Marks a figure that the log does not give. Never printed; test with is_known().
inline constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
[[nodiscard]] inline bool is_known(double value) {
  return !std::isnan(value);
}

/// A faster reading is no speed of a small vehicle: readers make it unknown (note "speed-absurd"). 720 km/h;
/// common practice, no source.
inline constexpr double fastest_speed_mps = 200.0;

/// One position/speed record of a log. `unknown` where the log says nothing; never infinite.
struct Fix {
  Instant time;                    ///< UTC; strictly increasing within a Log
  double lat_deg = unknown;        ///< WGS 84, -90..90
  double lon_deg = unknown;        ///< WGS 84, -180..180; known exactly if lat_deg is
  double ele_m = unknown;          ///< height as logged
  double speed_mps = unknown;      ///< reported (Doppler) speed over ground, 0..fastest_speed_mps
  double course_deg = unknown;     ///< reported course, clockwise from true north, 0..360
  double speed_sd_mps = unknown;   ///< receiver's own figure (CSV speed_accuracy_mps), > 0
  double position_sd_m = unknown;  ///< receiver's own horizontal figure (GST), > 0
  double hdop = unknown;           ///< > 0
  int satellites = -1;             ///< -1: not given
};

/// A further numeric column of a CSV log (battery, temperature); one value a fix.
struct Channel {
  std::string name;           ///< column name as in the file
  std::vector<double> value;  ///< (fixes) `unknown` where the cell is empty
};

/// What a reader makes of one file: fixes in order of time, and what was left out or mended.
struct Log {
  std::string path;  ///< as the user gave it; "-" for standard input
  LogFormat format = LogFormat::gpx;
  bool dated = true;              ///< false: the log has times of day only; `time` counts from 1970-01-01
  std::vector<Fix> fixes;         ///< (n), time strictly increasing
  std::vector<Channel> channels;  ///< CSV only
  std::vector<Note> notes;
  bool whole_second_stamps = false;  ///< times were cut to seconds; the readers spread them again
};

}  // namespace bothways
