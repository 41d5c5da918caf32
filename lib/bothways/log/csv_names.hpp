#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace bothways {

/// What a CSV column means (docs/formats.md lists the names).
enum class CsvRole {
  time,  ///< ISO 8601, or a number whose size tells its unit
  date,  ///< 2026-05-04, beside a time of day
  lat,
  lon,
  ele,
  speed_mps,
  speed_kmh,
  speed_mph,
  speed_kn,
  speed_unitless,  ///< refused: the unit is not said
  speed_sd,
  course,
  hdop,
  satellites,
  position_sd,
  channel  ///< anything else
};

/// "Höhe (m)" -> "hoehe_m": lower case, accents off, everything else one underscore. UTF-8, or Latin-1 where
/// it is none.
[[nodiscard]] std::string plain_name(std::string_view name);

/// Ways in which a name may mean something, the plainest first. Where two columns could have a role, the
/// plainer one gets it.
enum class Naming {
  exact,  ///< a usual English name
  loose,  ///< German, French, Spanish, Italian; time since a start, or with the form of its clock
  speed   ///< a speed of the receiver by any of its usual names with a unit behind it
};
inline constexpr std::array namings = {Naming::exact, Naming::loose, Naming::speed};

/// What a column of this name means; `channel` if it is not named in this way.
[[nodiscard]] CsvRole csv_role(std::string_view plain, Naming naming);
/// The same in the first way that means something.
[[nodiscard]] CsvRole csv_role(std::string_view plain);

/// A speed with its unit.
[[nodiscard]] bool is_speed(CsvRole role);
/// A speed of that unit in m/s.
[[nodiscard]] double as_mps(CsvRole role, double value);
/// The name of a column that may well hold the speed, though it cannot be told in which unit or of what.
[[nodiscard]] bool sounds_like_speed(std::string_view plain);

/// What the name of a time column says about its numbers.
struct TimeName {
  std::optional<double> unit_us;  ///< microseconds of one, where the name says so
  bool elapsed = false;           ///< counts from some start
  bool minutes_first = false;     ///< a clock of two parts is minutes and seconds
};
[[nodiscard]] TimeName time_name(std::string_view plain);
/// The name of a time column in this way.
[[nodiscard]] bool is_time_name(std::string_view plain, Naming naming);

}  // namespace bothways
