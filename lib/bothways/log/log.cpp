#include "bothways/log/log.hpp"

namespace bothways {

const char* to_string(LogFormat format) {
  switch (format) {
    case LogFormat::gpx:
      return "gpx";
    case LogFormat::nmea:
      return "nmea";
    case LogFormat::csv:
      return "csv";
  }
  return "";
}

}  // namespace bothways
