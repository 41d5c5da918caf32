#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/report/record.hpp"

#include <string>
#include <vector>

namespace bothways {

/// Conditions for people, one phrase a thing: {"new springs", "Heron 125", "air 11 °C (52 °F), 1.24 kg/m³",
/// ...}. Texts are as the user wrote them: writers escape them.
[[nodiscard]] std::vector<std::string> condition_phrases(const Conditions& conditions);

/// Conditions for programs; what is not known is nothing.
[[nodiscard]] Record condition_record(const Conditions& conditions);

}  // namespace bothways
