#pragma once

#include <array>
#include <string_view>

namespace bothways {

/// What is ridden, as far as wind and weight care. An electric vehicle is the kind that it looks like.
enum class VehicleKind { moped, scooter, motorcycle, kart, car };

inline constexpr std::array vehicle_kinds{VehicleKind::moped, VehicleKind::scooter, VehicleKind::motorcycle,
                                          VehicleKind::kart, VehicleKind::car};

/// "scooter"
[[nodiscard]] std::string_view to_string(VehicleKind kind);

/// @param word  in any letters
/// @throws std::invalid_argument  with a sentence that names all kinds
[[nodiscard]] VehicleKind parse_vehicle_kind(std::string_view word);

}  // namespace bothways
