#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/core/quantity.hpp"
#include "bothways/core/vehicle_kind.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace bothways {

/// What the rider wrote down beside a ride: the set-up, and what may make it quicker or slower by itself.
/// Nothing is there that was not given.
struct Conditions {
  std::string file;     ///< where it was written, as named by the user or found; empty: nowhere
  std::string setup;    ///< "new clutch springs"
  std::string vehicle;  ///< "Heron 125"
  std::optional<VehicleKind> kind;
  std::string note;
  std::optional<double> rider_mass_kg;          ///< with clothes, 20..300
  std::optional<double> total_mass_kg;          ///< vehicle, rider, fuel, load: 20..5000
  std::optional<double> temperature_degc;       ///< -60..60
  std::optional<double> pressure_pa;            ///< as a barometer at the place reads, 50..110 kPa
  std::optional<double> sea_level_pressure_pa;  ///< as weather reports have it, 90..110 kPa
  std::optional<double> station_height_m;       ///< of the place above the sea, -450..5500
  std::optional<double> humidity;               ///< relative, 0..1
  std::optional<Range> wind_mps;                ///< mean wind, from least to most, 0..40

  [[nodiscard]] bool empty() const;
};

/// The keys of conditions, in the order of the struct: "setup", "vehicle", "kind", ...
[[nodiscard]] std::span<const std::string_view> condition_keys();

/// Sets one of them from what the user wrote, `temperature`, `52 F`. White space around is ignored.
/// @throws std::invalid_argument  with a sentence that says what is wrong and what to write instead: unknown
///         key, no value, no unit, no such kind, or out of the range named above.
void set_condition(Conditions& conditions, std::string_view key, std::string_view value);

/// Pressure at the place, Pa: as given, or worked out from the height above the sea.
[[nodiscard]] std::optional<double> pressure_at_place_pa(const Conditions& conditions);

/// Density of the air of the ride, kg/m^3, with its uncertainty: the reading of thermometer (1 K) and
/// barometer (1 hPa), the weather where only the height is known (10 hPa), and any humidity where none is
/// given (common practice, no source).
/// @return nothing where the temperature, or both pressure and height, are not known.
[[nodiscard]] std::optional<Estimate> air_density_of(const Conditions& conditions);

}  // namespace bothways
