#pragma once

#include "cli/support.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <string>
#include <vector>

// What the tests of the page share.

using Json = nlohmann::json;

constexpr const char* before_after[] = {"--before", "fixtures/before-after/before", "--after",
                                        "fixtures/before-after/after"};

/// The page of `bothways page` with these arguments, which has to succeed.
[[nodiscard]] std::string page_of(std::vector<std::string> arguments);

/// What the script of a page reads.
[[nodiscard]] Json data_of(const std::string& page);

/// The JSON that a command writes.
[[nodiscard]] Json json_of(std::vector<std::string> arguments);

/// The row of this name, null if there is none.
[[nodiscard]] const Json& named(const Json& rows, const std::string& name);

/// How often `what` stands in a text.
[[nodiscard]] std::size_t count(const std::string& text, const std::string& what);

/// The page but for what is ours in any case: style, runtime and script.
[[nodiscard]] std::string without_parts(std::string page);

/// False, with a warning, if the program was built without its charts.
[[nodiscard]] bool has_charts();
