#pragma once

#include <string>
#include <string_view>

namespace bothways {

/// What a file is that is no log, and what to do about it.
struct Foreign {
  std::string what;    ///< "it starts like a ZIP archive"; empty: not known
  std::string remedy;  ///< "unpack it and give the log in it"; empty: give a log
};

/// By its first bytes, as they are: pictures, archives, spreadsheets, programs, binary logs.
[[nodiscard]] Foreign foreign_bytes(std::string_view head);

/// By its first text, UTF-8 without white space in front: web pages, other XML, JSON.
[[nodiscard]] Foreign foreign_text(std::string_view text);

}  // namespace bothways
