#include "bothways/report/ride_lines.hpp"

#include "bothways/core/error.hpp"
#include "bothways/report/ride_fields.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <cstdint>
#include <optional>
#include <ostream>
#include <stdexcept>
#include <type_traits>

namespace bothways {

namespace {

using Json = nlohmann::ordered_json;

constexpr int version = 1;  // counts up when a field changes its meaning or goes away

struct Writer;
struct Reader;

// Figures: what is not finite is null. Strings: bytes that are no UTF-8 go as numbers, so that a path comes
// back as it was. What occurs in hundreds is an array.

template <typename T>
Json encoded(const T& value);

Json encoded(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json encoded(const std::string& text) {
  Json json = text;
  try {
    (void)json.dump();
    return json;
  } catch (const Json::type_error&) {
    return std::vector<std::uint8_t>(text.begin(), text.end());
  }
}

Json encoded(const Instant& time) {
  return time.unix_us;
}

Json encoded(const SplitSpec& spec) {
  return spec.name;
}

Json encoded(VehicleKind kind) {
  return std::string(to_string(kind));
}

Json encoded(const Range& range) {
  return {encoded(range.lo), encoded(range.hi)};
}

Json encoded(const LatLon& place) {
  return {encoded(place.lat_deg), encoded(place.lon_deg)};
}

Json encoded(const Estimate& e) {
  return {encoded(e.value), encoded(e.sd), encoded(e.lo95), encoded(e.hi95)};
}

Json encoded(const SpeedEdge& edge) {
  return {encoded(edge.v_mps), encoded(edge.t_s), encoded(edge.sd_s), encoded(edge.s_m)};
}

Json encoded(const TracePoint& point) {
  return {point.step, point.lat_1e7, point.lon_1e7};
}

template <typename T>
Json encoded(const std::vector<T>& values) {
  Json all = Json::array();
  for (const T& value : values) {
    all.push_back(encoded(value));
  }
  return all;
}

template <typename T>
Json encoded(const std::optional<T>& value) {
  return value ? encoded(*value) : Json(nullptr);
}

struct Writer {
  template <typename T>
  void operator()(const char* key, const T& value) {
    json[key] = encoded(value);
  }
  Json json = Json::object();
};

template <typename T>
Json encoded(const T& value) {
  if constexpr (std::is_enum_v<T>) {
    return static_cast<int>(value);
  } else if constexpr (std::is_arithmetic_v<T>) {
    return value;
  } else {
    Writer writer;
    visit(writer, value);
    return writer.json;
  }
}

template <typename T>
void decode(const Json& json, T& value);

void decode(const Json& json, double& value) {
  value = json.is_null() ? unknown : json.get<double>();
}

void decode(const Json& json, std::string& text) {
  if (json.is_array()) {
    const auto bytes = json.get<std::vector<std::uint8_t>>();
    text.assign(bytes.begin(), bytes.end());
  } else {
    text = json.get<std::string>();
  }
}

void decode(const Json& json, Instant& time) {
  time.unix_us = json.get<std::int64_t>();
}

void decode(const Json& json, SplitSpec& spec) {
  spec = parse_splits(json.get<std::string>()).at(0);
}

void decode(const Json& json, VehicleKind& kind) {
  kind = parse_vehicle_kind(json.get<std::string>());
}

void decode(const Json& json, Range& range) {
  decode(json.at(0), range.lo);
  decode(json.at(1), range.hi);
}

void decode(const Json& json, LatLon& place) {
  decode(json.at(0), place.lat_deg);
  decode(json.at(1), place.lon_deg);
}

void decode(const Json& json, Estimate& e) {
  decode(json.at(0), e.value);
  decode(json.at(1), e.sd);
  decode(json.at(2), e.lo95);
  decode(json.at(3), e.hi95);
}

void decode(const Json& json, SpeedEdge& edge) {
  decode(json.at(0), edge.v_mps);
  decode(json.at(1), edge.t_s);
  decode(json.at(2), edge.sd_s);
  decode(json.at(3), edge.s_m);
}

void decode(const Json& json, TracePoint& point) {
  point = {json.at(0).get<std::int64_t>(), json.at(1).get<std::int32_t>(), json.at(2).get<std::int32_t>()};
}

void decode(const Json& json, LogFormat& format) {
  const int word = json.get<int>();
  if (word < 0 || word > static_cast<int>(LogFormat::kml)) {
    throw std::out_of_range("format");
  }
  format = static_cast<LogFormat>(word);
}

void decode(const Json& json, SpeedSource& source) {
  source = json.get<int>() == 0 ? SpeedSource::reported : SpeedSource::positions;
}

template <typename T>
void decode(const Json& json, std::vector<T>& values) {
  values.clear();
  values.reserve(json.size());
  for (const Json& one : json) {
    decode(one, values.emplace_back());
  }
}

template <typename T>
void decode(const Json& json, std::optional<T>& value) {
  value.reset();
  if (!json.is_null()) {
    decode(json, value.emplace());
  }
}

struct Reader {
  template <typename T>
  void operator()(const char* key, T& value) const {
    decode(json.at(key), value);
  }
  const Json& json;
};

template <typename T>
void decode(const Json& json, T& value) {
  if constexpr (std::is_arithmetic_v<T>) {
    value = json.get<T>();
  } else {
    const Reader reader{json};
    visit(reader, value);
  }
}

}  // namespace

void write_ride_line(std::ostream& out, const RideLine& line) {
  const Json json{{"bothways_ride", version}, {"splits", encoded(line.splits)}, {"ride", encoded(line.ride)}};
  out << json << '\n';
}

RideLine read_ride_line(std::string_view line, const std::string& file, std::size_t number) {
  RideLine read;
  try {
    const Json json = Json::parse(line);
    if (json.at("bothways_ride") != version) {
      throw LogError(file, number, "a ride of another version; write it again with bothways runs --rides");
    }
    decode(json.at("splits"), read.splits);
    decode(json.at("ride"), read.ride);
  } catch (const LogError&) {
    throw;
  } catch (const std::exception&) {
    throw LogError(file, number, "this is no ride as bothways runs --format jsonl --rides writes it");
  }
  return read;
}

}  // namespace bothways
