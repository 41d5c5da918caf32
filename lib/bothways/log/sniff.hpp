#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace bothways {

/// What the first bytes of a file say it is.
enum class Content { gpx, nmea, csv, gzip, xml, text, foreign, empty };

enum class Wide { no, little_endian, big_endian };

struct Sniffed {
  Content content = Content::empty;
  Wide wide = Wide::no;  ///< UTF-16
  std::string what;      ///< for `xml` and `foreign` "a PNG picture"; for `text` what it lacks
};

/// Looks at the first bytes (64 KiB are plenty).
[[nodiscard]] Sniffed sniff(std::string_view head);

/// The UTF-8 byte order mark.
inline constexpr std::string_view utf8_bom = "\xEF\xBB\xBF";

}  // namespace bothways
