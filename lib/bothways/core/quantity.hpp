#pragma once

#include <string_view>

namespace bothways {

/// What a figure with its unit counts, and the SI unit that it is read into.
enum class Dimension {
  mass,         ///< kg: kg, lb, st
  temperature,  ///< degrees Celsius: C, F, K
  pressure,     ///< Pa: hPa, mbar, kPa, Pa, inHg, mmHg
  length,       ///< m: m, km, ft, yd, mi
  speed,        ///< m/s: m/s, km/h, mph, kn
  share,        ///< 0..1: %
  volume,       ///< L: L, ml, US gal, imp gal
  area,         ///< m^2: m2, sq ft
  ratio         ///< a figure without a unit, or %
};

/// From lowest to highest; the same twice where one figure was given.
struct Range {
  double lo = 0.0;
  double hi = 0.0;

  [[nodiscard]] double middle() const { return (lo + hi) / 2.0; }
};

/// Reads a figure with its unit, `52 F`, `29.92 inHg`, `3.4L`. Capital and small letters are the same, and so
/// is the unit with or without a degree sign, blank or full stop. Locale-free. Factors: [NIST811].
/// @throws std::invalid_argument  with a sentence that says what is wrong and gives an example: no figure, no
///         unit, a unit of something else, or a gallon that may be US or imperial.
[[nodiscard]] double parse_quantity(std::string_view text, Dimension dimension);

/// The same, or two figures with one unit, `1-3 m/s`.
/// @throws std::invalid_argument  also if the second figure is below the first.
[[nodiscard]] Range parse_quantity_range(std::string_view text, Dimension dimension);

}  // namespace bothways
