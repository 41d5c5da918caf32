#pragma once

#include "bothways/log/draft.hpp"
#include "bothways/log/read.hpp"

#include <string>

namespace bothways {

/// Readers of one format each: everything in file order, values unchecked. Each appends its own notes.
/// @param source  bytes of the format, unpacked; UTF-8 except for GPX, where any encoding of XML goes
/// @param name    stands in errors
/// @param bytes   how many the source has, 0 if that is not known; only memory depends on it
/// @throws LogError  if the format's own minimum is missing (no GPX element, no usable column).
[[nodiscard]] Draft read_gpx(const ByteSource& source, const std::string& name, const ReadLimits& limits,
                             std::size_t bytes = 0);
[[nodiscard]] Draft read_nmea(const ByteSource& source, const ReadLimits& limits, std::size_t bytes = 0);
[[nodiscard]] Draft read_csv(const ByteSource& source, const std::string& name, const ReadLimits& limits,
                             std::size_t bytes = 0);

}  // namespace bothways
