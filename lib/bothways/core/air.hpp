#pragma once

namespace bothways {

/// Air at one place and time.
struct Air {
  double temperature_degc = 15.0;  ///< -60..60
  double pressure_pa = 101'325.0;  ///< as a barometer at the place reads, 30 000..120 000
  double humidity = 0.0;           ///< relative, 0..1
};

/// Density of moist air, kg/m^3, by the formula CIPM-2007 [CIPM07] (400 ppm of carbon dioxide).
/// It claims 2.2e-5 for 600..1100 hPa and 15..27 degrees Celsius; ours is within 1e-4 of check values there
/// and 1e-3 elsewhere (test "air density agrees with published values").
/// @throws std::invalid_argument  if a figure is outside the range named in Air.
[[nodiscard]] double air_density_kg_m3(const Air& air);

/// Density of the dry part alone, kg/m^3: what an engine burns with.
/// @throws std::invalid_argument  as above
[[nodiscard]] double dry_air_density_kg_m3(const Air& air);

/// Pressure of the dry part alone, Pa. @throws std::invalid_argument  as above
[[nodiscard]] double dry_pressure_pa(const Air& air);

/// Pressure of the standard atmosphere at a height above the sea, Pa [ISA76].
/// @param height_m  -1000..11 000
/// @throws std::invalid_argument  if outside
[[nodiscard]] double standard_pressure_pa(double height_m);

/// Power of an engine that breathes unaided, against that in air of 25 degrees Celsius and 990 hPa dry: the
/// reciprocal of the correction of SAE J1349 of August 2004 [J1349].
/// @throws std::invalid_argument  as air_density_kg_m3
[[nodiscard]] double engine_power_share(const Air& air);

}  // namespace bothways
