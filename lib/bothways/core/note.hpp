#pragma once

#include <cstddef>
#include <string>

namespace bothways {

/// Something left out, mended or worth knowing, and why. Never an error: the rest of the input is used.
struct Note {
  std::string code;      ///< stable word for programs: lower case and hyphens, e.g. "bad-checksum"
  std::string text;      ///< one sentence for people; may hold bytes of the log, so writers escape it
  std::size_t line = 0;  ///< 1-based line of the first case, 0 where it has no meaning
};

}  // namespace bothways
