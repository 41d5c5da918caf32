#pragma once

#include <compare>

namespace bothways {

// Exact factors, NIST SP 811 [NIST811].
inline constexpr double mps_per_mph = 0.44704;
inline constexpr double mps_per_kmh = 1.0 / 3.6;
inline constexpr double mps_per_knot = 1852.0 / 3600.0;
inline constexpr double m_per_foot = 0.3048;
inline constexpr double m_per_yard = 0.9144;
inline constexpr double m_per_mile = 1609.344;
inline constexpr double l_per_us_gallon = 3.785411784;
inline constexpr double l_per_imperial_gallon = 4.54609;
inline constexpr double w_per_hp = 745.69987158;  // 550 ft lbf/s; rounded
inline constexpr double gravity_mps2 = 9.80665;   // standard acceleration of free fall

/// The clock starts after this much travel, m: one foot, "initial vehicle movement" of [J1491].
inline constexpr double rollout_m = m_per_foot;

/// A speed that a user typed; made and read by naming a unit.
class Speed {
 public:
  constexpr Speed() = default;
  [[nodiscard]] static constexpr Speed from_mps(double value) { return Speed(value); }
  [[nodiscard]] static constexpr Speed from_mph(double value) { return Speed(value * mps_per_mph); }
  [[nodiscard]] static constexpr Speed from_kmh(double value) { return Speed(value / 3.6); }
  [[nodiscard]] static constexpr Speed from_knots(double value) { return Speed(value * 1852.0 / 3600.0); }
  [[nodiscard]] constexpr double mps() const { return mps_; }
  friend constexpr auto operator<=>(const Speed&, const Speed&) = default;

 private:
  constexpr explicit Speed(double mps) : mps_(mps) {}
  double mps_ = 0.0;  ///< m/s
};

/// A distance that a user typed; made and read by naming a unit.
class Length {
 public:
  constexpr Length() = default;
  [[nodiscard]] static constexpr Length from_m(double value) { return Length(value); }
  [[nodiscard]] constexpr double m() const { return m_; }
  friend constexpr auto operator<=>(const Length&, const Length&) = default;

 private:
  constexpr explicit Length(double m) : m_(m) {}
  double m_ = 0.0;  ///< m
};

}  // namespace bothways
