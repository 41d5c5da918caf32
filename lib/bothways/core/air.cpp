#include "bothways/core/air.hpp"

#include <cmath>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double zero_celsius_kelvin = 273.15;
constexpr double gas_j_mol_kelvin = 8.314472;
constexpr double dry_kg_mol = 28.96546e-3;
constexpr double water_kg_mol = 18.01528e-3;

void check(const Air& air) {
  const bool good = air.temperature_degc >= -60.0 && air.temperature_degc <= 60.0 &&
                    air.pressure_pa >= 30'000.0 && air.pressure_pa <= 120'000.0 && air.humidity >= 0.0 &&
                    air.humidity <= 1.0;
  if (!good) {
    throw std::invalid_argument("air: temperature, pressure or humidity is out of range");
  }
}

/// Share of water molecules.
double water_share(const Air& air) {
  const double t = air.temperature_degc;
  const double kelvin = t + zero_celsius_kelvin;
  const double enhancement = 1.00062 + 3.14e-8 * air.pressure_pa + 5.6e-7 * t * t;
  const double saturation_pa =
      std::exp(1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 - 6343.1645 / kelvin);
  return air.humidity * enhancement * saturation_pa / air.pressure_pa;
}

double compressibility(const Air& air, double water) {
  const double t = air.temperature_degc;
  const double kelvin = t + zero_celsius_kelvin;
  const double ratio = air.pressure_pa / kelvin;
  const double first = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t + (5.707e-6 - 2.051e-8 * t) * water +
                       (1.9898e-4 - 2.376e-6 * t) * water * water;
  return 1.0 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * water * water);
}

/// Density of dry air of the same pressure, temperature and compressibility.
double as_if_dry_kg_m3(const Air& air, double water) {
  return air.pressure_pa * dry_kg_mol /
         (compressibility(air, water) * gas_j_mol_kelvin * (air.temperature_degc + zero_celsius_kelvin));
}

}  // namespace

double air_density_kg_m3(const Air& air) {
  check(air);
  const double water = water_share(air);
  return as_if_dry_kg_m3(air, water) * (1.0 - water * (1.0 - water_kg_mol / dry_kg_mol));
}

double dry_air_density_kg_m3(const Air& air) {
  check(air);
  const double water = water_share(air);
  return as_if_dry_kg_m3(air, water) * (1.0 - water);
}

double dry_pressure_pa(const Air& air) {
  check(air);
  return air.pressure_pa * (1.0 - water_share(air));
}

double standard_pressure_pa(double height_m) {
  if (!(height_m >= -1000.0 && height_m <= 11'000.0)) {
    throw std::invalid_argument("height is out of range");
  }
  constexpr double sea_kelvin = 288.15;
  return 101'325.0 * std::pow((sea_kelvin - 0.0065 * height_m) / sea_kelvin, 5.2558798);
}

double engine_power_share(const Air& air) {
  constexpr double efficiency = 0.85;
  constexpr double reference_pa = 99'000.0;
  constexpr double reference_kelvin = 298.0;  // the rule's own rounding of 25 degrees Celsius
  const double kelvin = air.temperature_degc + 273.0;
  const double factor =
      reference_pa / dry_pressure_pa(air) * std::sqrt(kelvin / reference_kelvin) / efficiency -
      (1.0 / efficiency - 1.0);
  return 1.0 / factor;
}

}  // namespace bothways
