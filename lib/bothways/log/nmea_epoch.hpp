#pragma once

#include "bothways/log/log.hpp"
#include "bothways/log/nmea_sentence.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace bothways {

/// A speed as written, the size of its last digit, and the course beside it.
struct WrittenSpeed {
  double mps = unknown;
  double step_mps = 0.0;
  double course_deg = unknown;
  std::array<char, 2> talker{};  ///< VTG only
};

/// What the sentences of one instant say, before it becomes one fix.
class NmeaEpoch {
 public:
  /// Forgets all.
  void restart();

  /// RMC, GGA, GNS, GLL; also one without a valid fix, for its time.
  /// @return false if it belongs to another instant: take this epoch's fix and add it to a fresh one
  [[nodiscard]] bool add_position(const Sentence& sentence, std::size_t line);
  /// @param sure  it is known to be of this epoch: handed on by fix()
  void add_vtg(const WrittenSpeed& vtg, bool sure = false);
  void set_position_sd(double sd_m) { fix_.position_sd_m = sd_m; }

  [[nodiscard]] std::optional<std::int64_t> clock_us() const { return clock_us_; }
  [[nodiscard]] std::optional<std::int64_t> day() const { return day_; }
  [[nodiscard]] std::size_t line() const { return line_; }
  [[nodiscard]] bool valid() const { return valid_; }          ///< some sentence had a fix
  [[nodiscard]] bool untimed_fix() const { return untimed_; }  ///< some had one but no time that can be read
  [[nodiscard]] bool empty() const { return seen_count_ == 0; }  ///< no position sentence yet

  /// All but the time. `next_vtg` receives the VTG that turns out to belong to the epoch after this one.
  [[nodiscard]] Fix fix(std::optional<WrittenSpeed>& next_vtg) const;

 private:
  enum class Repeat { no, same, different };
  struct SentenceDigest {
    std::uint64_t tag = 0;   ///< talker and kind
    std::uint64_t hash = 0;  ///< of all of it
  };

  [[nodiscard]] Repeat look_up(const SentenceDigest& sentence) const;
  void remember(const SentenceDigest& sentence);
  void take(const Sentence& sentence, const Fields& fields);
  void take_rmc(const Fields& fields, bool mixed);
  void take_place(const Fields& fields, std::size_t first, bool mixed);
  void take_quality(const Fields& fields, bool mixed);
  [[nodiscard]] std::size_t choose_vtg() const;

  std::size_t line_ = 0;
  std::optional<std::int64_t> clock_us_;
  std::optional<std::int64_t> day_;
  bool valid_ = false;
  bool untimed_ = false;
  Fix fix_;
  std::size_t place_rank_ = 0;    ///< of the position taken: more digits, then mixed talker
  std::size_t quality_rank_ = 0;  ///< of satellites, hdop, height
  WrittenSpeed rmc_;
  std::array<WrittenSpeed, 2> vtg_;
  std::size_t vtg_count_ = 0;
  bool vtg_leads_ = false;  ///< the first VTG came before any time: it may be the epoch's before
  std::array<SentenceDigest, 8> seen_;
  std::size_t seen_count_ = 0;
};

/// Speed and course of a VTG; unknown if its mode says that there is no fix. km/h is taken where knots are
/// missing or its last digit is less than half as large.
[[nodiscard]] WrittenSpeed read_vtg(const Sentence& sentence);

/// Horizontal dilution of precision from a GSA; unknown if it says that there is no fix.
[[nodiscard]] double read_gsa_hdop(const Fields& fields);

/// Horizontal sd of one axis from a GST, m.
[[nodiscard]] double read_gst_sd_m(const Fields& fields);

}  // namespace bothways
