#pragma once

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

/// One sentence of a line: from `$` to the next `$`, a CR or the end of the line.
struct Sentence {
  SentenceKind kind = SentenceKind::other;
  bool mixed_talker = false;  ///< GN: all systems together
  std::string_view body;      ///< behind `$`, before `*`
  Checksum checksum = Checksum::absent;
  std::size_t length = 0;  ///< `$` to the second checksum digit
};

/// Takes the next sentence of a kind we use off the front of `line`; what stands before it goes too.
/// @return  false if there is none left.
[[nodiscard]] bool take_sentence(std::string_view& line, Sentence& sentence);

/// Comma-separated fields of a sentence body, the tag included as field 0; absent ones are empty.
class Fields {
 public:
  static constexpr std::size_t most = 24;

  /// @param wanted  so many fields are split off, at most `most`; further ones count as absent
  explicit Fields(std::string_view body, std::size_t wanted = most);

  [[nodiscard]] std::string_view operator[](std::size_t index) const {
    if (index >= count_) {
      return {};
    }
    return {body_.data() + start_[index], start_[index + 1] - start_[index] - std::size_t{1}};
  }
  [[nodiscard]] std::size_t count() const { return count_; }

 private:
  std::string_view body_;
  std::size_t count_ = 0;
  std::array<std::uint32_t, most + 1> start_;  ///< of each field; then one behind the last one's comma
};

/// `hhmmss.ss` in microseconds since midnight, second 60 allowed.
[[nodiscard]] std::optional<std::int64_t> nmea_clock_us(std::string_view text);

/// `ddmmyy` as days since 1970-01-01; years below 80 are 20xx.
[[nodiscard]] std::optional<std::int64_t> nmea_date_days(std::string_view text);

/// `ddmm.mmmm` or `dddmm.mmmm` and its hemisphere letter in degrees.
[[nodiscard]] std::optional<double> nmea_degrees(std::string_view text, std::string_view hemisphere);

}  // namespace bothways
