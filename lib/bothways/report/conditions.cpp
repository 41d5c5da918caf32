#include "bothways/report/conditions.hpp"

#include "bothways/core/units.hpp"
#include "bothways/report/number.hpp"

#include <cmath>

namespace bothways {

namespace {

constexpr double kg_per_lb = 0.45359237;
constexpr double pa_per_inhg = 3386.389;

constexpr double kg_m3_per_lb_ft3 = kg_per_lb / (m_per_foot * m_per_foot * m_per_foot);

/// Figures of conditions in the units of one system.
struct ConditionUnits {
  bool metric = true;

  [[nodiscard]] std::string mass(double kg) const {
    return metric ? fixed(kg, 0) + " kg" : fixed(kg / kg_per_lb, 0) + " lb";
  }
  [[nodiscard]] std::string pressure(double pa) const {
    return metric ? fixed(pa / 100.0, 0) + " hPa" : fixed(pa / pa_per_inhg, 2) + " inHg";
  }
  [[nodiscard]] std::string temperature(double degc) const {
    return metric ? fixed(degc, 0) + " °C" : fixed(degc * 1.8 + 32.0, 0) + " °F";
  }
  [[nodiscard]] std::string height(double m) const {
    return metric ? fixed(m, 0) + " m" : fixed(m / m_per_foot, 0) + " ft";
  }
  [[nodiscard]] std::string density(Estimate kg_m3) const {
    for (double* figure : {&kg_m3.value, &kg_m3.sd, &kg_m3.lo95, &kg_m3.hi95}) {
      *figure /= metric ? 1.0 : kg_m3_per_lb_ft3;
    }
    return plus_minus(kg_m3) + (metric ? " kg/m³" : " lb/ft³");
  }
};

std::string weather_words(const Conditions& conditions, const ConditionUnits& units) {
  std::string text;
  const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (conditions.temperature_degc) {
    add(units.temperature(*conditions.temperature_degc));
  }
  if (conditions.pressure_pa) {
    add(units.pressure(*conditions.pressure_pa));
  }
  if (conditions.sea_level_pressure_pa) {
    add(units.pressure(*conditions.sea_level_pressure_pa) + " at sea level");
  }
  if (conditions.station_height_m) {
    add(units.height(*conditions.station_height_m) + " above the sea");
  }
  if (conditions.humidity) {
    add("humidity " + fixed(*conditions.humidity * 100.0, 0) + " %");
  }
  if (const auto density = air_density_of(conditions)) {
    add("density " + units.density(*density));
  }
  return text;
}

std::string range_in(const Range& range, double unit) {
  const std::string lo = fixed(range.lo / unit, 0);
  const std::string hi = fixed(range.hi / unit, 0);
  return lo == hi ? lo : lo + " to " + hi;
}

}  // namespace

std::vector<std::string> condition_phrases(const Conditions& conditions, bool metric) {
  const ConditionUnits units{metric};
  std::vector<std::string> phrases;
  for (const std::string* text : {&conditions.setup, &conditions.vehicle, &conditions.note}) {
    if (!text->empty()) {
      phrases.push_back(*text);
    }
  }
  if (conditions.kind) {
    phrases.emplace_back(to_string(*conditions.kind));
  }
  if (conditions.rider_mass_kg) {
    phrases.push_back("rider " + units.mass(*conditions.rider_mass_kg));
  }
  if (conditions.total_mass_kg) {
    phrases.push_back(units.mass(*conditions.total_mass_kg) + " in all");
  }
  if (const std::string weather = weather_words(conditions, units); !weather.empty()) {
    phrases.push_back("air " + weather);
  }
  if (conditions.wind_mps) {
    phrases.push_back("wind " + (metric ? range_in(*conditions.wind_mps, 1.0) + " m/s"
                                        : range_in(*conditions.wind_mps, mps_per_mph) + " mph"));
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
          {"kind", conditions.kind ? FieldValue(std::string(to_string(*conditions.kind))) : FieldValue()},
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
