#pragma once

#include "bothways/log/draft.hpp"
#include "bothways/log/read.hpp"

#include <span>
#include <string>
#include <string_view>

namespace bothways {

/// What a reader gets.
struct ReaderInput {
  const ByteSource&
      source;  ///< bytes of the format, unpacked; UTF-8, or of an `xml` reader any encoding of XML
  const std::string& name;  ///< stands in errors
  const ReadOptions& options;
  std::size_t bytes = 0;  ///< how many the source has, 0 if that is not known; only memory depends on it
};

/// A format of logs: how it is told, read and named. The table in readers.cpp is the only list of them.
struct Reader {
  LogFormat format;
  const char* key;   ///< "gpx", in output
  const char* name;  ///< "GPX", in sentences
  bool xml;          ///< reads the encoding itself
  /// The format has the look of these first bytes (UTF-8, no white space in front).
  bool (*claims)(std::string_view head);
  /// What a text lacks that comes near the format, "it has ..., but no ..."; empty if it does not.
  std::string (*lacks)(std::string_view head);
  /// Everything in file order, values unchecked, with notes of its own.
  /// @throws LogError  if the format's own minimum is missing (no point with a time, no usable column).
  Draft (*read)(const ReaderInput& input);
};

/// In the order in which they are asked.
[[nodiscard]] std::span<const Reader> readers();

// Of each format, in its own file.
[[nodiscard]] bool claims_gpx(std::string_view head);
[[nodiscard]] Draft read_gpx(const ReaderInput& input);
[[nodiscard]] bool claims_tcx(std::string_view head);
[[nodiscard]] Draft read_tcx(const ReaderInput& input);
[[nodiscard]] bool claims_kml(std::string_view head);
[[nodiscard]] Draft read_kml(const ReaderInput& input);
[[nodiscard]] bool claims_nmea(std::string_view head);
[[nodiscard]] std::string lacks_nmea(std::string_view head);
[[nodiscard]] Draft read_nmea(const ReaderInput& input);
[[nodiscard]] bool claims_csv(std::string_view head);
[[nodiscard]] std::string lacks_csv(std::string_view head);
[[nodiscard]] Draft read_csv(const ReaderInput& input);

}  // namespace bothways
