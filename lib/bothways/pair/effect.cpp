#include "bothways/pair/effect.hpp"

#include "bothways/core/air.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

namespace bothways {

namespace {

// Elasticities of the times of a scooter of 200 kg and 8.9 kW at the wheel, by our own quadrature.
constexpr double time_by_mass = 1.055;                  // 1.05 to 30 and 40 mph, 1.07 to 50 mph
constexpr double time_by_density = -1.06;               // drive and drag together
constexpr Range time_by_power{-1.28, -1.07};            // drive alone
constexpr double time_by_drag = 0.08;                   // drag alone: 0.03 to 0.24
constexpr Range time_by_wind_square{0.05e-2, 0.08e-2};  // a (m/s)^2
constexpr double least_air_share = 0.005;
constexpr double least_mass_share = 0.003;
constexpr double least_wind_share = 0.001;
constexpr double usual_humidity = 0.5;
constexpr double usual_pressure_pa = 101'325.0;  // drops out: only the ratio of two counts

Range in_order(double a, double b) {
  return {std::min(a, b), std::max(a, b)};
}

/// "0.1 s", "0.1 to 0.2 s": two figures of which the smaller half-decides the digits.
std::string seconds_words(const Range& time_s) {
  const Range size = in_order(std::abs(time_s.lo), std::abs(time_s.hi));
  const int decimals = size.hi < 0.095 ? 2 : 1;
  const std::string lo = fmt::format("{:.{}f}", size.lo, decimals);
  const std::string hi = fmt::format("{:.{}f}", size.hi, decimals);
  return lo == hi ? hi + " s" : lo + " to " + hi + " s";
}

std::string percent_words(double share) {
  const double percent = std::abs(share) * 100.0;
  return fmt::format("{:.{}f} %", percent, percent < 2.95 ? 1 : 0);
}

/// "may explain about 0.1 s slower"
std::string explains(const ExpectedPart& part) {
  return fmt::format("that alone may make it {} by about {}",
                     part.share.middle() < 0.0 ? "quicker" : "slower", seconds_words(part.time_s));
}

ExpectedPart made(const char* code, Range share, double time_s) {
  return {code, share, {share.lo * time_s, share.hi * time_s}, ""};
}

/// One figure for each side; what one side does not tell is taken from the other.
struct Both {
  double before = 0.0;
  double after = 0.0;
  bool taken = false;  ///< at least one side did not tell
};

std::optional<Both> both(const std::optional<double>& before, const std::optional<double>& after) {
  if (!before && !after) {
    return std::nullopt;
  }
  return Both{before ? *before : *after, after ? *after : *before, !before || !after};
}

/// The pressure at the place, or that at the sea, which has the same ratio where the place is the same.
std::optional<Both> pressures(const Conditions& before, const Conditions& after) {
  const auto at_place = both(pressure_at_place_pa(before), pressure_at_place_pa(after));
  if (at_place && !at_place->taken) {
    return at_place;
  }
  const auto at_sea = both(before.sea_level_pressure_pa, after.sea_level_pressure_pa);
  return at_sea && !at_sea->taken ? at_sea : at_place;
}

void add_air(const Conditions& before, const Conditions& after, double time_s, ExpectedEffect& effect) {
  const auto temperature = both(before.temperature_degc, after.temperature_degc);
  if (!temperature || (temperature->taken && !pressures(before, after))) {
    return;
  }
  const Both pressure = pressures(before, after).value_or(Both{usual_pressure_pa, usual_pressure_pa, true});
  const Both humidity =
      both(before.humidity, after.humidity).value_or(Both{usual_humidity, usual_humidity, true});
  const Air first{temperature->before, pressure.before, humidity.before};
  const Air second{temperature->after, pressure.after, humidity.after};
  const double density = dry_air_density_kg_m3(second) / dry_air_density_kg_m3(first);
  if (std::abs(density - 1.0) < least_air_share) {
    return;
  }
  const double by_density = std::pow(density, time_by_density) - 1.0;
  const double power = engine_power_share(second) / engine_power_share(first);
  const double by_rule = std::pow(power, time_by_power.middle()) * std::pow(density, time_by_drag) - 1.0;
  ExpectedPart part = made("air", in_order(by_density, by_rule), time_s);
  part.text = fmt::format("the air was {} {} after: {}, for an engine without turbo or supercharger",
                          percent_words(density - 1.0), density > 1.0 ? "denser" : "thinner", explains(part));
  if (pressure.taken) {
    part.text += " (the same pressure assumed)";
  }
  effect.parts.push_back(std::move(part));
}

/// Total mass of both sides, where the figures allow it.
std::optional<Both> total_masses(const Conditions& before, const Conditions& after) {
  if (before.total_mass_kg && after.total_mass_kg) {
    return Both{*before.total_mass_kg, *after.total_mass_kg};
  }
  if (!before.rider_mass_kg || !after.rider_mass_kg || !(before.total_mass_kg || after.total_mass_kg)) {
    return std::nullopt;
  }
  const double riders_kg = *after.rider_mass_kg - *before.rider_mass_kg;
  return before.total_mass_kg ? Both{*before.total_mass_kg, *before.total_mass_kg + riders_kg, true}
                              : Both{*after.total_mass_kg - riders_kg, *after.total_mass_kg, true};
}

std::string mass_words(double kg, bool metric) {
  return fmt::format("{:.0f} {} {}", std::abs(kg) / (metric ? 1.0 : 0.45359237), metric ? "kg" : "lb",
                     kg > 0.0 ? "heavier" : "lighter");
}

void add_mass(const Conditions& before, const Conditions& after, double time_s, bool metric,
              ExpectedEffect& effect) {
  const auto mass = total_masses(before, after);
  if (mass && mass->before > 0.0 && mass->after > 0.0) {
    const double ratio = mass->after / mass->before;
    if (std::abs(ratio - 1.0) < least_mass_share) {
      return;
    }
    const double share = std::pow(ratio, time_by_mass) - 1.0;
    ExpectedPart part = made("mass", {share, share}, time_s);
    part.text = fmt::format("vehicle and rider were {} after, {} of the whole: {}",
                            mass_words(mass->after - mass->before, metric), percent_words(ratio - 1.0),
                            explains(part));
    effect.parts.push_back(std::move(part));
  } else if (before.rider_mass_kg && after.rider_mass_kg &&
             std::abs(*after.rider_mass_kg - *before.rider_mass_kg) >= 1.0) {
    ExpectedPart part = made("mass", {0.0, 0.0}, time_s);
    part.text = fmt::format(
        "the rider was {} after; with total_mass in the conditions it could be said what that makes",
        mass_words(*after.rider_mass_kg - *before.rider_mass_kg, metric));
    effect.parts.push_back(std::move(part));
  }
}

void add_wind(const Conditions& before, const Conditions& after, double time_s, ExpectedEffect& effect) {
  if (!before.wind_mps || !after.wind_mps) {
    return;
  }
  const auto square = [](double v) { return v * v; };
  // The least and the most that the squares may differ, each times the weaker and the stronger rule.
  const double least = square(after.wind_mps->lo) - square(before.wind_mps->hi);
  const double most = square(after.wind_mps->hi) - square(before.wind_mps->lo);
  const double middle = square(after.wind_mps->middle()) - square(before.wind_mps->middle());
  const bool single = least == most;
  const Range share = single ? in_order(middle * time_by_wind_square.lo, middle * time_by_wind_square.hi)
                             : Range{least * (least < 0.0 ? time_by_wind_square.hi : time_by_wind_square.lo),
                                     most * (most > 0.0 ? time_by_wind_square.hi : time_by_wind_square.lo)};
  if (std::abs(middle) * time_by_wind_square.hi < least_wind_share) {
    return;
  }
  ExpectedPart part = made("wind", share, time_s);
  if (share.lo < 0.0 && share.hi > 0.0) {
    part.text = fmt::format(
        "the wind was not the same; it costs more one way than it gives back the other, and may make between "
        "{:+.2f} and {:+.2f} s of "
        "the difference",
        part.time_s.lo, part.time_s.hi);
  } else {
    part.text =
        fmt::format("there was {} wind after, which costs more one way than it gives back the other: {}",
                    middle > 0.0 ? "more" : "less", explains(part));
  }
  effect.parts.push_back(std::move(part));
}

}  // namespace

ExpectedEffect expected_effect(const Conditions& before, const Conditions& after, double time_s,
                               bool metric) {
  if (!(time_s > 0.0) || !std::isfinite(time_s)) {
    throw std::invalid_argument("time_s must be above 0");
  }
  ExpectedEffect effect;
  add_air(before, after, time_s, effect);
  add_mass(before, after, time_s, metric, effect);
  add_wind(before, after, time_s, effect);
  return effect;
}

}  // namespace bothways
