#pragma once

#include "bothways/log/read.hpp"

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

namespace bothways {

/// The UTF-8 byte order mark.
inline constexpr std::string_view utf8_bom = "\xEF\xBB\xBF";

/// So many first bytes decide what a file is.
inline constexpr std::size_t head_bytes = std::size_t{64} * 1024;

/// Bytes of a file. The file closes when the last copy of the source goes.
/// @throws LogError  if it is missing, a folder, or may not be read.
[[nodiscard]] ByteSource file_source(const std::string& path);

/// Up to `count` bytes, fewer only at the end of the source.
[[nodiscard]] std::string take_bytes(const ByteSource& source, std::size_t count);

/// The bytes of `head`, then those of `rest`, which is asked for as many at a time: the XML library takes
/// 4,000.
[[nodiscard]] ByteSource with_head(std::string head, ByteSource rest);

/// How a gzip stream ended.
enum class GzipEnd { whole, cut_off, damaged };

/// Unpacked bytes of a gzip file (several members one after the other are one stream).
struct Gunzip {
  ByteSource source;
  std::shared_ptr<const GzipEnd> end;  ///< final once `source` has given 0
};
[[nodiscard]] Gunzip gunzip(ByteSource packed);

/// UTF-16 text as UTF-8; what is no character becomes U+FFFD. A byte order mark is kept (as its UTF-8 form).
[[nodiscard]] ByteSource utf16_to_utf8(ByteSource wide, bool big_endian);

}  // namespace bothways
