#include "bothways/report/conditions.hpp"

#include "bothways/core/units.hpp"
#include "bothways/report/number.hpp"

#include <cmath>

namespace bothways {

namespace {

constexpr double kg_per_lb = 0.45359237;
constexpr double pa_per_inhg = 3386.389;

std::string mass_words(double kg) {
  return fixed(kg, 0) + " kg (" + fixed(kg / kg_per_lb, 0) + " lb)";
}

std::string pressure_words(double pa) {
  return fixed(pa / 100.0, 0) + " hPa (" + fixed(pa / pa_per_inhg, 2) + " inHg)";
}

std::string weather_words(const Conditions& conditions) {
  std::string text;
  const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (conditions.temperature_degc) {
    add(fixed(*conditions.temperature_degc, 0) + " °C (" +
        fixed(*conditions.temperature_degc * 1.8 + 32.0, 0) + " °F)");
  }
  if (conditions.pressure_pa) {
    add(pressure_words(*conditions.pressure_pa));
  }
  if (conditions.sea_level_pressure_pa) {
    add(pressure_words(*conditions.sea_level_pressure_pa) + " at sea level");
  }
  if (conditions.station_height_m) {
    add(fixed(*conditions.station_height_m, 0) + " m (" +
        fixed(*conditions.station_height_m / m_per_foot, 0) + " ft) above the sea");
  }
  if (conditions.humidity) {
    add("humidity " + fixed(*conditions.humidity * 100.0, 0) + " %");
  }
  if (const auto density = air_density_of(conditions)) {
    add("so " + plus_minus(*density) + " kg/m³");
  }
  return text;
}

std::string range_words(const Range& range, double factor) {
  const std::string lo = fixed(range.lo / factor, 0);
  const std::string hi = fixed(range.hi / factor, 0);
  return lo == hi ? lo : lo + " to " + hi;
}

}  // namespace

std::vector<std::string> condition_phrases(const Conditions& conditions) {
  std::vector<std::string> phrases;
  for (const std::string* text : {&conditions.setup, &conditions.vehicle, &conditions.note}) {
    if (!text->empty()) {
      phrases.push_back(*text);
    }
  }
  if (conditions.rider_mass_kg) {
    phrases.push_back("rider " + mass_words(*conditions.rider_mass_kg));
  }
  if (conditions.total_mass_kg) {
    phrases.push_back("in all " + mass_words(*conditions.total_mass_kg));
  }
  if (const std::string weather = weather_words(conditions); !weather.empty()) {
    phrases.push_back("air " + weather);
  }
  if (conditions.wind_mps) {
    phrases.push_back("wind " + range_words(*conditions.wind_mps, 1.0) + " m/s (" +
                      range_words(*conditions.wind_mps, mps_per_mph) + " mph)");
  }
  return phrases;
}

Record condition_record(const Conditions& conditions) {
  const auto text = [](const std::string& words) { return words.empty() ? FieldValue() : FieldValue(words); };
  const auto figure = [](const std::optional<double>& value, int decimals) {
    return value ? FieldValue(Number{rounded(*value, decimals), decimals}) : FieldValue();
  };
  const auto density = air_density_of(conditions);
  const auto& wind = conditions.wind_mps;
  const std::optional<double> none;
  return {{"file", text(conditions.file)},
          {"setup", text(conditions.setup)},
          {"vehicle", text(conditions.vehicle)},
          {"note", text(conditions.note)},
          {"rider_mass_kg", figure(conditions.rider_mass_kg, 2)},
          {"total_mass_kg", figure(conditions.total_mass_kg, 2)},
          {"temperature_degc", figure(conditions.temperature_degc, 2)},
          {"pressure_pa", figure(conditions.pressure_pa, 0)},
          {"sea_level_pressure_pa", figure(conditions.sea_level_pressure_pa, 0)},
          {"station_height_m", figure(conditions.station_height_m, 1)},
          {"humidity", figure(conditions.humidity, 4)},
          {"wind_lo_mps", figure(wind ? wind->lo : none, 2)},
          {"wind_hi_mps", figure(wind ? wind->hi : none, 2)},
          {"air_density_kg_m3", figure(density ? density->value : none, 4)},
          {"air_density_sd_kg_m3", figure(density ? density->sd : none, 4)}};
}

}  // namespace bothways
