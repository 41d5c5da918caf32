#pragma once

#include "bothways/core/conditions.hpp"

#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace bothways {

/// Conditions for people, one phrase a thing: {"new springs", "Heron 125", "air 11 °C (52 °F), 1.24 kg/m³",
/// ...}. Texts are as the user wrote them: writers escape them.
[[nodiscard]] std::vector<std::string> condition_phrases(const Conditions& conditions);

/// Conditions for programs: key and value in the order of docs/formats.md; what is not known is absent.
[[nodiscard]] std::vector<std::pair<std::string, std::variant<std::string, double>>> condition_values(
    const Conditions& conditions);

}  // namespace bothways
