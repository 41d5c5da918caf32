#pragma once

#include "bothways/log/bytes16.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace bothways {

enum class SentenceKind { other, rmc, vtg, gga, gns, gll, zda, gsa, gst };

/// Kind by the last three letters of the five behind `$` ("GPRMC,"); proprietary ones (P...) are `other`.
/// @param body  starts behind `$`
[[nodiscard]] SentenceKind sentence_kind(std::string_view body);

enum class Checksum {
  right,
  wrong,
  absent,  ///< no `*`
  cut      ///< the line ends before both digits
};

/// Comma-separated fields of a sentence body, the tag included as field 0; absent ones are empty. At least
/// the first 24 are kept.
class Fields {
 public:
  // Starts beyond count_ are never read; setting them would cost as much as finding the commas.
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init)
  Fields() { start_[0] = 0; }
  explicit Fields(std::string_view body);

  [[nodiscard]] std::string_view operator[](std::size_t index) const {
    if (index >= count_) {
      return {};
    }
    return {first_ + start_[index], start_[index + 1] - start_[index] - std::size_t{1}};
  }

  /// Building: forget all, note the commas of a block that stands at `at`, close the last field.
  void clear() { count_ = 0; }
  void add_commas(Lanes commas, std::size_t at) {
    if (count_ >= most) {
      return;
    }
    std::size_t count = count_;
    for (; commas.any(); commas.drop_first()) {
      start_[++count] = static_cast<std::uint32_t>(at + commas.first() + 1);
    }
    count_ = count;
  }
  void close(std::string_view body) {
    first_ = body.data();
    if (count_ < most) {
      start_[++count_] = static_cast<std::uint32_t>(body.size() + 1);
    }
  }

 private:
  static constexpr std::size_t most = 24;

  const char* first_ = nullptr;
  std::size_t count_ = 0;
  /// Of each field, then one behind the last one's comma; a block may hold 16 commas.
  std::array<std::uint32_t, most + Bytes16::size + 1> start_;
};

/// One sentence of a line: from `$` to the next `$`, a CR or the end of the line.
struct Sentence {
  SentenceKind kind = SentenceKind::other;
  bool mixed_talker = false;  ///< GN: all systems together
  std::string_view body;      ///< behind `$`, before `*`
  Fields fields;              ///< of the body; not of a GSA, which is seldom needed
  Checksum checksum = Checksum::absent;
  std::size_t length = 0;  ///< `$` to the second checksum digit
};

/// Takes the next sentence of a kind we use off the front of `line`; what stands before it goes too.
/// @return  false if there is none left.
[[nodiscard]] bool take_sentence(std::string_view& line, Sentence& sentence);

/// `hhmmss.ss` in microseconds since midnight, second 60 allowed.
[[nodiscard]] std::optional<std::int64_t> nmea_clock_us(std::string_view text);

/// `ddmmyy` as days since 1970-01-01; years below 80 are 20xx.
[[nodiscard]] std::optional<std::int64_t> nmea_date_days(std::string_view text);

/// `ddmm.mmmm` or `dddmm.mmmm` and its hemisphere letter in degrees.
[[nodiscard]] std::optional<double> nmea_degrees(std::string_view text, std::string_view hemisphere);

}  // namespace bothways
