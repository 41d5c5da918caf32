#include "bothways/core/unit_names.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <array>

namespace bothways {

namespace {

constexpr double pa_per_inhg = 3386.389;  // conventional
constexpr double celsius_per_fahrenheit = 5.0 / 9.0;

constexpr auto unit_names = std::to_array<UnitName>({
    {"kg", Dimension::mass, 1.0},
    {"lb", Dimension::mass, 0.45359237},
    {"lbs", Dimension::mass, 0.45359237},
    {"st", Dimension::mass, 14 * 0.45359237},
    {"stone", Dimension::mass, 14 * 0.45359237},
    {"c", Dimension::temperature, 1.0},
    {"degc", Dimension::temperature, 1.0},
    {"celsius", Dimension::temperature, 1.0},
    {"f", Dimension::temperature, celsius_per_fahrenheit, -32.0},
    {"degf", Dimension::temperature, celsius_per_fahrenheit, -32.0},
    {"fahrenheit", Dimension::temperature, celsius_per_fahrenheit, -32.0},
    {"k", Dimension::temperature, 1.0, -273.15},
    {"hpa", Dimension::pressure, 100.0},
    {"mbar", Dimension::pressure, 100.0},
    {"mb", Dimension::pressure, 100.0},
    {"kpa", Dimension::pressure, 1000.0},
    {"pa", Dimension::pressure, 1.0},
    {"inhg", Dimension::pressure, pa_per_inhg},
    {"mmhg", Dimension::pressure, 101325.0 / 760.0},
    {"m", Dimension::length, 1.0, 0.0, "m"},
    {"metre", Dimension::length, 1.0, 0.0, "m"},
    {"metres", Dimension::length, 1.0, 0.0, "m"},
    {"meter", Dimension::length, 1.0, 0.0, "m"},
    {"meters", Dimension::length, 1.0, 0.0, "m"},
    {"km", Dimension::length, 1000.0, 0.0, "km"},
    {"kilometre", Dimension::length, 1000.0, 0.0, "km"},
    {"kilometres", Dimension::length, 1000.0, 0.0, "km"},
    {"kilometer", Dimension::length, 1000.0, 0.0, "km"},
    {"kilometers", Dimension::length, 1000.0, 0.0, "km"},
    {"ft", Dimension::length, m_per_foot, 0.0, "ft"},
    {"feet", Dimension::length, m_per_foot, 0.0, "ft"},
    {"foot", Dimension::length, m_per_foot, 0.0, "ft"},
    {"yd", Dimension::length, m_per_yard, 0.0, "yd"},
    {"yard", Dimension::length, m_per_yard, 0.0, "yd"},
    {"yards", Dimension::length, m_per_yard, 0.0, "yd"},
    {"mi", Dimension::length, m_per_mile, 0.0, "mi"},
    {"mile", Dimension::length, m_per_mile, 0.0, "mi"},
    {"miles", Dimension::length, m_per_mile, 0.0, "mi"},
    {"m/s", Dimension::speed, 1.0, 0.0, "m/s"},
    {"mps", Dimension::speed, 1.0, 0.0, "m/s"},
    {"metrespersecond", Dimension::speed, 1.0, 0.0, "m/s"},
    {"meterspersecond", Dimension::speed, 1.0, 0.0, "m/s"},
    {"km/h", Dimension::speed, mps_per_kmh, 0.0, "km/h"},
    {"kmh", Dimension::speed, mps_per_kmh, 0.0, "km/h"},
    {"kph", Dimension::speed, mps_per_kmh, 0.0, "km/h"},
    {"kmph", Dimension::speed, mps_per_kmh, 0.0, "km/h"},
    {"kilometresperhour", Dimension::speed, mps_per_kmh, 0.0, "km/h"},
    {"kilometersperhour", Dimension::speed, mps_per_kmh, 0.0, "km/h"},
    {"mph", Dimension::speed, mps_per_mph, 0.0, "mph"},
    {"mi/h", Dimension::speed, mps_per_mph, 0.0, "mph"},
    {"milesperhour", Dimension::speed, mps_per_mph, 0.0, "mph"},
    {"kn", Dimension::speed, mps_per_knot, 0.0, "kn"},
    {"kt", Dimension::speed, mps_per_knot, 0.0, "kn"},
    {"knots", Dimension::speed, mps_per_knot, 0.0, "kn"},
    {"knot", Dimension::speed, mps_per_knot, 0.0, "kn"},
    {"kts", Dimension::speed, mps_per_knot, 0.0, "kn"},
    {"%", Dimension::share, 0.01},
    {"percent", Dimension::share, 0.01},
    {"%", Dimension::ratio, 0.01},
    {"l", Dimension::volume, 1.0},
    {"litre", Dimension::volume, 1.0},
    {"litres", Dimension::volume, 1.0},
    {"liter", Dimension::volume, 1.0},
    {"liters", Dimension::volume, 1.0},
    {"ml", Dimension::volume, 0.001},
    {"usgal", Dimension::volume, l_per_us_gallon},
    {"galus", Dimension::volume, l_per_us_gallon},
    {"usgallon", Dimension::volume, l_per_us_gallon},
    {"usgallons", Dimension::volume, l_per_us_gallon},
    {"impgal", Dimension::volume, l_per_imperial_gallon},
    {"ukgal", Dimension::volume, l_per_imperial_gallon},
    {"galimp", Dimension::volume, l_per_imperial_gallon},
    {"imperialgal", Dimension::volume, l_per_imperial_gallon},
    {"impgallon", Dimension::volume, l_per_imperial_gallon},
    {"impgallons", Dimension::volume, l_per_imperial_gallon},
    {"imperialgallon", Dimension::volume, l_per_imperial_gallon},
    {"imperialgallons", Dimension::volume, l_per_imperial_gallon},
    {"m2", Dimension::area, 1.0},
    {"m^2", Dimension::area, 1.0},
    {"m²", Dimension::area, 1.0},
    {"sqm", Dimension::area, 1.0},
    {"sqft", Dimension::area, m_per_foot* m_per_foot},
    {"ft2", Dimension::area, m_per_foot* m_per_foot},
});

}  // namespace

std::string plain_unit_name(std::string_view text) {
  constexpr std::string_view degree = "°";
  std::string plain;
  for (const char letter : text) {
    if (letter != ' ' && letter != '\t' && letter != '.' && letter != '-') {
      plain += letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    }
  }
  if (plain.starts_with(degree)) {
    plain.erase(0, degree.size());
  }
  return plain;
}

const UnitName* find_unit(std::string_view plain_name, Dimension dimension) {
  const auto* found = std::find_if(unit_names.begin(), unit_names.end(), [&](const UnitName& unit) {
    return unit.name == plain_name && unit.dimension == dimension;
  });
  return found == unit_names.end() ? nullptr : found;
}

}  // namespace bothways
