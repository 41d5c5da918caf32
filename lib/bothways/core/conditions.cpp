#include "bothways/core/conditions.hpp"

#include "bothways/core/air.hpp"
#include "bothways/core/text.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <stdexcept>

namespace bothways {

namespace {

constexpr std::size_t longest_text = 1000;  // bytes
constexpr double usual_humidity = 0.5;
constexpr double thermometer_sd_kelvin = 1.0;
constexpr double barometer_sd_pa = 100.0;
constexpr double weather_sd_pa = 1000.0;
constexpr double even_spread = 0.28867513459481287;  // 1/sqrt(12): sd of an even spread of width 1

constexpr std::array<std::string_view, 12> keys{{"setup", "vehicle", "note", "kind", "rider_mass",
                                                 "total_mass", "temperature", "pressure",
                                                 "sea_level_pressure", "station_height", "humidity", "wind"}};

double within(std::string_view value, Range figure, Range allowed, std::string_view remedy) {
  if (!(figure.lo >= allowed.lo && figure.hi <= allowed.hi)) {
    throw std::invalid_argument(fmt::format("'{}' cannot be; {}", value, remedy));
  }
  return figure.lo;
}

double figure(std::string_view value, Dimension dimension, Range allowed, std::string_view remedy) {
  const double read = parse_quantity(value, dimension);
  return within(value, {read, read}, allowed, remedy);
}

double mass_kg(std::string_view value, Range allowed, std::string_view remedy) {
  return figure(value, Dimension::mass, allowed, remedy);
}

/// What the words say, at most so long.
std::string words(std::string_view value) {
  if (value.size() > longest_text) {
    throw std::invalid_argument(fmt::format("the text is longer than {} letters; shorten it", longest_text));
  }
  return std::string(value);
}

bool set_text(Conditions& conditions, std::string_view key, std::string_view value) {
  for (auto [name, target] : {std::pair{keys[0], &conditions.setup}, std::pair{keys[1], &conditions.vehicle},
                              std::pair{keys[2], &conditions.note}}) {
    if (key == name) {
      *target = words(value);
      return true;
    }
  }
  return false;
}

bool set_vehicle(Conditions& conditions, std::string_view key, std::string_view value) {
  if (key == "kind") {
    conditions.kind = parse_vehicle_kind(value);
  } else if (key == "rider_mass") {
    conditions.rider_mass_kg = mass_kg(value, {20.0, 300.0}, "a rider has 20 to 300 kg (44 to 660 lb)");
  } else if (key == "total_mass") {
    conditions.total_mass_kg =
        mass_kg(value, {20.0, 5000.0}, "vehicle and rider together have 20 to 5000 kg (44 to 11000 lb)");
  } else {
    return false;
  }
  return true;
}

bool set_weather(Conditions& conditions, std::string_view key, std::string_view value) {
  if (key == "temperature") {
    conditions.temperature_degc =
        figure(value, Dimension::temperature, {-60.0, 60.0}, "the air has -60 to 60 C (-76 to 140 F)");
  } else if (key == "pressure") {
    conditions.pressure_pa = figure(value, Dimension::pressure, {50'000.0, 110'000.0},
                                    "a barometer shows 500 to 1100 hPa (14.8 to 32.5 inHg)");
  } else if (key == "sea_level_pressure") {
    conditions.sea_level_pressure_pa = figure(value, Dimension::pressure, {90'000.0, 110'000.0},
                                              "at the sea it is 900 to 1100 hPa (26.6 to 32.5 inHg)");
  } else if (key == "station_height") {
    conditions.station_height_m = figure(value, Dimension::length, {-450.0, 5500.0},
                                         "roads lie from -450 to 5500 m (-1480 to 18000 ft)");
  } else if (key == "humidity") {
    conditions.humidity = figure(value, Dimension::share, {0.0, 1.0}, "humidity goes from 0 to 100 %");
  } else if (key == "wind") {
    const Range wind = parse_quantity_range(value, Dimension::speed);
    within(value, wind, {0.0, 40.0}, "wind goes from 0 to 40 m/s (90 mph)");
    conditions.wind_mps = wind;
  } else {
    return false;
  }
  return true;
}

}  // namespace

bool Conditions::empty() const {
  return setup.empty() && vehicle.empty() && note.empty() && !kind && !rider_mass_kg && !total_mass_kg &&
         !temperature_degc && !pressure_pa && !sea_level_pressure_pa && !station_height_m && !humidity &&
         !wind_mps;
}

std::span<const std::string_view> condition_keys() {
  return keys;
}

void set_condition(Conditions& conditions, std::string_view key, std::string_view value) {
  const std::string_view text = trimmed(value);
  if (text.empty()) {
    throw std::invalid_argument(
        fmt::format("'{}' has no value; write one after the '=' or leave the line out", key));
  }
  try {
    if (set_text(conditions, key, text) || set_vehicle(conditions, key, text) ||
        set_weather(conditions, key, text)) {
      return;
    }
  } catch (const std::invalid_argument& error) {
    throw std::invalid_argument(fmt::format("{}: {}", key, error.what()));
  }
  throw std::invalid_argument(
      fmt::format("there is no condition '{}'; there are {}", key, fmt::join(keys, ", ")));
}

std::optional<double> pressure_at_place_pa(const Conditions& conditions) {
  if (conditions.pressure_pa) {
    return conditions.pressure_pa;
  }
  if (!conditions.station_height_m) {
    return std::nullopt;
  }
  const double standard_pa = standard_pressure_pa(*conditions.station_height_m);
  return conditions.sea_level_pressure_pa
             ? *conditions.sea_level_pressure_pa * standard_pa / standard_pressure_pa(0.0)
             : standard_pa;
}

std::optional<Estimate> air_density_of(const Conditions& conditions) {
  const auto pressure_pa = pressure_at_place_pa(conditions);
  if (!conditions.temperature_degc || !pressure_pa) {
    return std::nullopt;
  }
  const Air air{*conditions.temperature_degc, *pressure_pa, conditions.humidity.value_or(usual_humidity)};
  const double density = air_density_kg_m3(air);
  const bool measured = conditions.pressure_pa || conditions.sea_level_pressure_pa;
  const double from_pressure = (measured ? barometer_sd_pa : weather_sd_pa) / *pressure_pa;
  const double from_temperature = thermometer_sd_kelvin / (*conditions.temperature_degc + 273.15);
  double from_humidity = 0.0;
  if (!conditions.humidity) {
    const double dry = air_density_kg_m3({air.temperature_degc, air.pressure_pa, 0.0});
    const double wet = air_density_kg_m3({air.temperature_degc, air.pressure_pa, 1.0});
    from_humidity = even_spread * (dry - wet) / density;
  }
  return normal_estimate(density, density * std::hypot(from_pressure, from_temperature, from_humidity));
}

}  // namespace bothways
