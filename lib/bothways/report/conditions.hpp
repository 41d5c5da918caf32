#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/report/record.hpp"

#include <string>
#include <vector>

namespace bothways {

/// Conditions for people, one phrase a thing: {"new springs", "Heron 125", "air 11 °C, so 1.24 kg/m³", ...},
/// or in the units of the United States. Texts are as the user wrote them: writers escape them.
[[nodiscard]] std::vector<std::string> condition_phrases(const Conditions& conditions, bool metric);

/// Conditions for programs; what is not known is nothing.
[[nodiscard]] Record condition_record(const Conditions& conditions);

}  // namespace bothways
