#include "bothways/core/quantity.hpp"

#include "bothways/core/text.hpp"
#include "bothways/core/unit_names.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>

namespace bothways {

namespace {

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
  rest = trimmed(figure);
  return value;
}

const UnitName& take_unit(std::string_view rest, std::string_view whole, Dimension dimension) {
  const std::string name = plain_unit_name(rest);
  static constexpr UnitName plain{"", Dimension::ratio, 1.0};
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
  const UnitName* found = find_unit(name, dimension);
  if (found == nullptr) {
    refuse(whole, "has a unit that is not known here", dimension);
  }
  return *found;
}

double converted(double value, const UnitName& unit) {
  return (value + unit.offset) * unit.factor;
}

}  // namespace

double parse_quantity(std::string_view text, Dimension dimension) {
  const std::string_view whole = trimmed(text);
  std::string_view rest = whole;
  const double value = take_figure(rest, whole, dimension);
  return converted(value, take_unit(rest, whole, dimension));
}

Range parse_quantity_range(std::string_view text, Dimension dimension) {
  const std::string_view whole = trimmed(text);
  std::string_view rest = whole;
  const double first = take_figure(rest, whole, dimension);
  double second = first;
  for (const std::string_view between : {"-", "–", "to "}) {
    if (rest.starts_with(between)) {
      rest = trimmed(rest.substr(between.size()));
      second = take_figure(rest, whole, dimension);
      break;
    }
  }
  if (second < first) {
    refuse(whole, "ends lower than it starts", dimension);
  }
  const UnitName& unit = take_unit(rest, whole, dimension);
  return {converted(first, unit), converted(second, unit)};
}

}  // namespace bothways
