#include "bothways/core/quantity.hpp"

#include "bothways/core/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>

namespace bothways {

namespace {

struct Unit {
  std::string_view name;  // small letters, without blanks, full stops, hyphens and degree signs
  Dimension dimension;
  double factor;
  double offset = 0.0;  // SI = (value + offset) * factor
};

constexpr double pa_per_inhg = 3386.389;  // conventional
constexpr double celsius_per_fahrenheit = 5.0 / 9.0;

constexpr std::array<Unit, 63> units{{{"kg", Dimension::mass, 1.0},
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
                                      {"m", Dimension::length, 1.0},
                                      {"km", Dimension::length, 1000.0},
                                      {"ft", Dimension::length, m_per_foot},
                                      {"feet", Dimension::length, m_per_foot},
                                      {"yd", Dimension::length, m_per_yard},
                                      {"mi", Dimension::length, m_per_mile},
                                      {"mile", Dimension::length, m_per_mile},
                                      {"miles", Dimension::length, m_per_mile},
                                      {"m/s", Dimension::speed, 1.0},
                                      {"mps", Dimension::speed, 1.0},
                                      {"km/h", Dimension::speed, mps_per_kmh},
                                      {"kmh", Dimension::speed, mps_per_kmh},
                                      {"kph", Dimension::speed, mps_per_kmh},
                                      {"mph", Dimension::speed, mps_per_mph},
                                      {"kn", Dimension::speed, mps_per_knot},
                                      {"kt", Dimension::speed, mps_per_knot},
                                      {"knots", Dimension::speed, mps_per_knot},
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
                                      {"ft2", Dimension::area, m_per_foot* m_per_foot}}};

const char* examples(Dimension dimension) {
  switch (dimension) {
    case Dimension::mass:
      return "82 kg or 182 lb";
    case Dimension::temperature:
      return "11 C or 52 F";
    case Dimension::pressure:
      return "1013 hPa or 29.92 inHg";
    case Dimension::length:
      return "300 m or 980 ft";
    case Dimension::speed:
      return "3 m/s, 10 km/h or 5 mph";
    case Dimension::share:
      return "60 %";
    case Dimension::volume:
      return "3.4 L, 1.2 US gal or 1.2 imp gal";
    case Dimension::area:
      return "0.55 m2 or 6 sq ft";
    case Dimension::ratio:
      return "0.02 or 2 %";
  }
  return "";
}

[[noreturn]] void refuse(std::string_view text, std::string_view why, Dimension dimension) {
  throw std::invalid_argument(fmt::format("'{}' {}; write for example {}", text, why, examples(dimension)));
}

std::string_view without_blanks(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  return first == std::string_view::npos ? std::string_view{}
                                         : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::string plain_unit(std::string_view text) {
  std::string plain;
  for (const char letter : text) {
    if (letter != ' ' && letter != '\t' && letter != '.' && letter != '-') {
      plain += letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    }
  }
  if (plain.starts_with("°")) {
    plain.erase(0, std::string_view("°").size());
  }
  return plain;
}

/// Takes a figure from the front of the text.
double take_figure(std::string_view& rest, std::string_view whole, Dimension dimension) {
  double value = 0.0;
  std::string_view figure = rest;
  if (figure.starts_with('+')) {
    figure.remove_prefix(1);
  }
  const auto [end, error] =
      std::from_chars(figure.data(), figure.data() + figure.size(), value, std::chars_format::fixed);
  if (error != std::errc{} || !std::isfinite(value)) {
    refuse(whole, "does not start with a figure", dimension);
  }
  figure.remove_prefix(static_cast<std::size_t>(end - figure.data()));
  if (figure.starts_with(',')) {
    refuse(whole, "has a comma where a decimal point belongs", dimension);
  }
  rest = without_blanks(figure);
  return value;
}

const Unit& take_unit(std::string_view rest, std::string_view whole, Dimension dimension) {
  const std::string name = plain_unit(rest);
  static constexpr Unit plain{"", Dimension::ratio, 1.0};
  if (name.empty() && dimension == Dimension::ratio) {
    return plain;
  }
  if (name.empty()) {
    refuse(whole, "has no unit", dimension);
  }
  if (dimension == Dimension::volume && name.starts_with("gal")) {
    if (name == "gal" || name == "gals" || name == "gallon" || name == "gallons") {
      refuse(whole, "may be US or imperial gallons, which differ by a fifth", dimension);
    }
  }
  const auto* found = std::find_if(units.begin(), units.end(), [&](const Unit& unit) {
    return unit.name == name && unit.dimension == dimension;
  });
  if (found == units.end()) {
    refuse(whole, "has a unit that is not known here", dimension);
  }
  return *found;
}

double converted(double value, const Unit& unit) {
  return (value + unit.offset) * unit.factor;
}

}  // namespace

double parse_quantity(std::string_view text, Dimension dimension) {
  const std::string_view whole = without_blanks(text);
  std::string_view rest = whole;
  const double value = take_figure(rest, whole, dimension);
  return converted(value, take_unit(rest, whole, dimension));
}

Range parse_quantity_range(std::string_view text, Dimension dimension) {
  const std::string_view whole = without_blanks(text);
  std::string_view rest = whole;
  const double first = take_figure(rest, whole, dimension);
  double second = first;
  for (const std::string_view between : {"-", "–", "to "}) {
    if (rest.starts_with(between)) {
      rest = without_blanks(rest.substr(between.size()));
      second = take_figure(rest, whole, dimension);
      break;
    }
  }
  if (second < first) {
    refuse(whole, "ends lower than it starts", dimension);
  }
  const Unit& unit = take_unit(rest, whole, dimension);
  return {converted(first, unit), converted(second, unit)};
}

}  // namespace bothways
