#pragma once

#include "bothways/core/time.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace bothways {

/// Reads ISO 8601 times of one log. `2026-05-04T09:30:12.34Z` is read fast, its date looked up only when it
/// changes; anything else goes to parse_iso8601. Both give the same instant.
class IsoClock {
 public:
  [[nodiscard]] std::optional<ParsedTime> parse(std::string_view text);

 private:
  [[nodiscard]] std::optional<ParsedTime> parse_usual(std::string_view text);

  std::array<char, 10> date_{};
  std::int64_t date_us_ = 0;
};

}  // namespace bothways
