#pragma once

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

/// What of docs/formats.md, schema "bothways/1", a parsed output does not follow; empty if it is all right.
/// Each fault names the place: "logs/0/runs/1/splits/0: no sd_s".
[[nodiscard]] std::vector<std::string> contract_faults(const nlohmann::json& document);
