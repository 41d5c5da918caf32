#pragma once

#include "bothways/log/readers.hpp"

#include <string>
#include <string_view>

namespace bothways {

enum class Content { log, gzip, foreign, empty };

enum class Wide { no, little_endian, big_endian };

/// What the first bytes of a file say it is.
struct Sniffed {
  Content content = Content::empty;
  Wide wide = Wide::no;            ///< UTF-16
  const Reader* reader = nullptr;  ///< of a log
  std::string what;                ///< of anything else: "it starts like a PNG picture"
  std::string remedy;              ///< what to do about it; empty: give a log
};

/// Looks at the first bytes (64 KiB are plenty).
[[nodiscard]] Sniffed sniff(std::string_view head);

}  // namespace bothways
