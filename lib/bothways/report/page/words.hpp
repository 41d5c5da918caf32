#pragma once

#include <span>
#include <string_view>

namespace bothways {

/// What a rider has to mind before anything else; README has the same, and a test holds both together.
[[nodiscard]] std::span<const std::string_view> cautions();

/// How the figures come about, in three sentences.
[[nodiscard]] std::span<const std::string_view> method_in_short();

}  // namespace bothways
