#include "bothways/core/vehicle_kind.hpp"

#include "bothways/core/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <string>

namespace bothways {

namespace {

constexpr std::array<std::string_view, vehicle_kinds.size()> kind_names{"moped", "scooter", "motorcycle",
                                                                        "kart", "car"};

}  // namespace

std::string_view to_string(VehicleKind kind) {
  return kind_names.at(static_cast<std::size_t>(kind));
}

VehicleKind parse_vehicle_kind(std::string_view word) {
  const auto found = std::find(kind_names.begin(), kind_names.end(), lowered(std::string(trimmed(word))));
  if (found == kind_names.end()) {
    throw std::invalid_argument(fmt::format("'{}' is no kind of vehicle here; write {}, whichever is nearest",
                                            word, fmt::join(kind_names, ", ")));
  }
  return vehicle_kinds.at(static_cast<std::size_t>(found - kind_names.begin()));
}

}  // namespace bothways
