#pragma once

#include "bothways/report/record.hpp"
#include "bothways/report/result.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <vector>

namespace bothways {

// Parts of the contract that several writers share.

using Json = nlohmann::ordered_json;

/// Sets the keys of a record in their order; what is nothing or not finite is absent.
void put(Json& object, const Record& record);

/// One object of these keys.
[[nodiscard]] Json to_json(const Record& record);

[[nodiscard]] Json notes_json(const std::vector<Note>& notes);

/// An element of "logs".
[[nodiscard]] Json log_json(const Result& result, std::size_t index);

/// The array under "overall".
[[nodiscard]] Json overall_json(const Result& result);

/// "schema", "clock", "clock_text" and "marks"
[[nodiscard]] Json head_json(Clock clock, bool marks_chosen);

}  // namespace bothways
