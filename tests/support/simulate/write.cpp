#include "support/simulate/write.hpp"

#include "bothways/core/units.hpp"
#include "bothways/log/read.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <iterator>
#include <span>
#include <stdexcept>
#include <string_view>

namespace bothways::sim {

namespace {

/// hhmmss.ss and ddmmyy out of an ISO 8601 text of fixed form.
struct NmeaTime {
  std::string time;
  std::string date;
};

NmeaTime nmea_time(Instant instant) {
  const std::string iso = format_iso8601(instant);  // 2026-05-04T09:30:12.340Z
  return {iso.substr(11, 2) + iso.substr(14, 2) + iso.substr(17, 5),
          iso.substr(8, 2) + iso.substr(5, 2) + iso.substr(2, 2)};
}

/// ddmm.mmmmm,N: rounded as a whole, so that minutes never read 60.
std::string nmea_angle(double deg, int degree_digits, int decimals, char positive, char negative) {
  const double scale = std::pow(10.0, decimals);
  const auto all = static_cast<std::int64_t>(std::llround(std::abs(deg) * 60.0 * scale));
  const auto per_degree = static_cast<std::int64_t>(60.0 * scale);
  return fmt::format("{:0{}d}{:0{}.{}f},{}", all / per_degree, degree_digits,
                     static_cast<double>(all % per_degree) / scale, decimals + 3, decimals,
                     deg < 0.0 ? negative : positive);
}

void add_sentence(std::string& out, std::string_view body) {
  unsigned sum = 0;
  for (const char c : body) {
    sum ^= static_cast<unsigned char>(c);
  }
  fmt::format_to(std::back_inserter(out), "${}*{:02X}\r\n", body, sum);
}

void add_optional(std::string& out, double value, int decimals) {
  out += ',';
  if (is_known(value)) {
    fmt::format_to(std::back_inserter(out), "{:.{}f}", value, decimals);
  }
}

}  // namespace

std::string to_nmea(const Log& log, const NmeaStyle& style) {
  std::string out;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    const NmeaTime at = nmea_time(fix.time);
    const std::string place = nmea_angle(fix.lat_deg, 2, style.minute_decimals, 'N', 'S') + ',' +
                              nmea_angle(fix.lon_deg, 3, style.minute_decimals, 'E', 'W');
    std::string rmc = fmt::format("GNRMC,{},A,{}", at.time, place);
    add_optional(rmc, fix.speed_mps / mps_per_knot, style.knot_decimals);
    // Receivers leave the course out where it means nothing.
    add_optional(rmc, fix.speed_mps < 0.3 ? unknown : fix.course_deg, 1);
    add_sentence(out, fmt::format("{},{},,,A", rmc, at.date));
    if (style.gga_every > 0 && i % static_cast<std::size_t>(style.gga_every) == 0) {
      add_sentence(out, fmt::format("GNGGA,{},{},1,{:02d},{:.1f},{:.1f},M,0.0,M,,", at.time, place,
                                    fix.satellites, fix.hdop, fix.ele_m));
      if (style.gst && is_known(fix.position_sd_m)) {
        add_sentence(out, fmt::format("GNGST,{},,,,,{:.2f},{:.2f},{:.2f}", at.time, fix.position_sd_m,
                                      fix.position_sd_m, 2.0 * fix.position_sd_m));
      }
    }
  }
  return out;
}

std::string to_gpx(const Log& log, const std::string& name, const GpxStyle& style) {
  const bool old = style.speed == GpxSpeed::element;
  std::string out = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"{0}\" creator=\"bothways fixtures\" "
      "xmlns=\"http://www.topografix.com/GPX/{1}\">\n<trk><name>{2}</name><trkseg>\n",
      old ? "1.0" : "1.1", old ? "1/0" : "1/1", name);
  const auto to = std::back_inserter(out);
  for (const Fix& fix : log.fixes) {
    fmt::format_to(to, "<trkpt lat=\"{:.{}f}\" lon=\"{:.{}f}\"><ele>{:.1f}</ele><time>{}</time>", fix.lat_deg,
                   style.degree_decimals, fix.lon_deg, style.degree_decimals, fix.ele_m,
                   format_iso8601(fix.time));
    if (is_known(fix.speed_mps) && old) {
      fmt::format_to(to, "<course>{:.1f}</course><speed>{:.{}f}</speed>", fix.course_deg, fix.speed_mps,
                     style.speed_decimals);
    } else if (is_known(fix.speed_mps) && style.speed == GpxSpeed::extension) {
      fmt::format_to(to, "<extensions><speed>{:.{}f}</speed></extensions>", fix.speed_mps,
                     style.speed_decimals);
    }
    out += "</trkpt>\n";
  }
  out += "</trkseg></trk>\n</gpx>\n";
  return out;
}

std::string to_csv(const Log& log, int speed_decimals) {
  const bool accuracy = !log.fixes.empty() && is_known(log.fixes.front().speed_sd_mps);
  std::string out = "time,lat,lon,speed_mps";
  out += accuracy ? ",speed_accuracy_mps" : "";
  for (const Channel& channel : log.channels) {
    out += ',' + channel.name;
  }
  out += '\n';
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    out += format_iso8601(fix.time);
    add_optional(out, fix.lat_deg, 7);
    add_optional(out, fix.lon_deg, 7);
    add_optional(out, fix.speed_mps, speed_decimals);
    if (accuracy) {
      add_optional(out, fix.speed_sd_mps, 2);
    }
    for (const Channel& channel : log.channels) {
      add_optional(out, channel.value.at(i), 2);
    }
    out += '\n';
  }
  return out;
}

std::string to_tcx(const Log& log) {
  std::string out =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<TrainingCenterDatabase "
      "xmlns=\"http://www.garmin.com/xmlschemas/TrainingCenterDatabase/v2\">\n"
      "<Activities><Activity Sport=\"Other\"><Lap><Track>\n";
  const auto to = std::back_inserter(out);
  for (const Fix& fix : log.fixes) {
    fmt::format_to(to,
                   "<Trackpoint><Time>{}</Time><Position><LatitudeDegrees>{:.9f}</"
                   "LatitudeDegrees><LongitudeDegrees>{:.9f}"
                   "</LongitudeDegrees></Position>",
                   format_iso8601(fix.time), fix.lat_deg, fix.lon_deg);
    if (is_known(fix.ele_m)) {
      fmt::format_to(to, "<AltitudeMeters>{:.1f}</AltitudeMeters>", fix.ele_m);
    }
    if (is_known(fix.speed_mps)) {
      fmt::format_to(to, "<Extensions><TPX><Speed>{:.8f}</Speed></TPX></Extensions>", fix.speed_mps);
    }
    out += "</Trackpoint>\n";
  }
  return out + "</Track></Lap></Activity></Activities></TrainingCenterDatabase>\n";
}

std::string to_kml(const Log& log) {
  std::string out =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<kml xmlns=\"http://www.opengis.net/kml/2.2\" "
      "xmlns:gx=\"http://www.google.com/kml/ext/2.2\"><Placemark><gx:Track>\n";
  const auto to = std::back_inserter(out);
  for (const Fix& fix : log.fixes) {
    fmt::format_to(to, "<when>{}</when>\n", format_iso8601(fix.time));
  }
  for (const Fix& fix : log.fixes) {
    fmt::format_to(to, "<gx:coord>{:.9f} {:.9f}", fix.lon_deg, fix.lat_deg);
    if (is_known(fix.ele_m)) {
      fmt::format_to(to, " {:.1f}", fix.ele_m);
    }
    out += "</gx:coord>\n";
  }
  out += "<ExtendedData><SchemaData><gx:SimpleArrayData name=\"speed_mps\">\n";
  for (const Fix& fix : log.fixes) {
    if (is_known(fix.speed_mps)) {
      fmt::format_to(to, "<gx:value>{:.8f}</gx:value>\n", fix.speed_mps);
    } else {
      out += "<gx:value/>\n";
    }
  }
  return out + "</gx:SimpleArrayData></SchemaData></ExtendedData></gx:Track></Placemark></kml>\n";
}

Log read_back(const std::string& bytes) {
  std::size_t at = 0;
  return read_log(
      [&](std::span<char> buffer) {
        const std::size_t count = std::min(buffer.size(), bytes.size() - at);
        std::memcpy(buffer.data(), bytes.data() + at, count);
        at += count;
        return count;
      },
      "simulated");
}

std::string gzipped(const std::string& bytes) {
  z_stream stream{};
  constexpr int gzip_window = 15 + 16;
  if (deflateInit2(&stream, 9, Z_DEFLATED, gzip_window, 9, Z_DEFAULT_STRATEGY) != Z_OK) {
    throw std::runtime_error("zlib does not start");
  }
  std::string in = bytes;  // zlib takes a pointer to non-const
  std::string out(deflateBound(&stream, static_cast<uLong>(in.size())), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(in.data());
  stream.avail_in = static_cast<uInt>(in.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int end = deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  if (end != Z_STREAM_END) {
    throw std::runtime_error("zlib does not finish");
  }
  return out;
}

std::string gunzipped(const std::string& bytes) {
  z_stream stream{};
  constexpr int gzip_window = 15 + 16;
  if (inflateInit2(&stream, gzip_window) != Z_OK) {
    throw std::runtime_error("zlib does not start");
  }
  std::string in = bytes;
  std::string out;
  std::string block(65536, '\0');
  stream.next_in = reinterpret_cast<Bytef*>(in.data());
  stream.avail_in = static_cast<uInt>(in.size());
  int state = Z_OK;
  while (state == Z_OK) {
    stream.next_out = reinterpret_cast<Bytef*>(block.data());
    stream.avail_out = static_cast<uInt>(block.size());
    state = inflate(&stream, Z_NO_FLUSH);
    out.append(block, 0, block.size() - stream.avail_out);
  }
  inflateEnd(&stream);
  if (state != Z_STREAM_END) {
    throw std::runtime_error("no whole gzip member");
  }
  return out;
}

}  // namespace bothways::sim
