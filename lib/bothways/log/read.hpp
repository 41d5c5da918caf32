#pragma once

#include "bothways/log/log.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>

namespace bothways {

/// Where bytes come from: fills the buffer, returns the count, 0 at the end.
/// @throws LogError  if the source fails.
using ByteSource = std::function<std::size_t(std::span<char>)>;

/// Order of day, month and year in a CSV date that is written in figures.
enum class DateOrder { dmy, mdy, ymd };

/// Limits of what is read from one log, part of the contract, tested, and what the log does not say itself.
struct ReadOptions {
  std::size_t fixes = 20'000'000;                   ///< more are left out with a note (1.6 GB of memory)
  std::size_t line_bytes = std::size_t{64} * 1024;  ///< a longer line of NMEA or CSV is skipped with a note
  std::size_t field_bytes = 256;                    ///< longer texts of one GPX element are not kept
  std::optional<DateOrder> date_order;              ///< for dates that can be read in several ways
};

/// Reads one log of any format in LogFormat, plain or gzipped; told by content, not by
/// name. Fixes come out in order of time, one per instant; damage is in `notes`.
/// @throws LogError  if the file is missing, unreadable, empty, not a log, or holds no fix with a time.
[[nodiscard]] Log read_log(const std::string& path, const ReadOptions& options = {});

/// The same from any source (a pipe, a buffer); `name` stands for the path in notes and errors.
[[nodiscard]] Log read_log(const ByteSource& source, const std::string& name,
                           const ReadOptions& options = {});

/// True if the first bytes look like a log (plain or gzipped).
/// Reads at most 64 KiB. False if the file cannot be opened.
[[nodiscard]] bool looks_like_log(const std::string& path);

}  // namespace bothways
