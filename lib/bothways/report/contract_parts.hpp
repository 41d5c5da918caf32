#pragma once

#include "bothways/report/result.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace bothways {

// Parts of the contract that several writers share.

using Json = nlohmann::ordered_json;

/// Sets the key, rounded, if the figure is finite.
void put_number(Json& object, const char* key, double value, int decimals);

/// prefix + time_s, sd_s, lo95_s, hi95_s, if all are finite.
void put_estimate(Json& object, const std::string& prefix, const Estimate& estimate);

[[nodiscard]] Json notes_json(const std::vector<Note>& notes);

/// An element of "logs".
[[nodiscard]] Json log_json(const Result& result, std::size_t index);

/// The array under "overall".
[[nodiscard]] Json overall_json(const Result& result);

}  // namespace bothways
