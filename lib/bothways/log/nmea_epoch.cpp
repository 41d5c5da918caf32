#include "bothways/log/nmea_epoch.hpp"

#include "bothways/core/units.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>
#include <cstring>

namespace bothways {

namespace {

// One receiver writes 120824.758 in one sentence and 120824.76 in the next.
constexpr std::int64_t same_instant_us = 5'000;

/// N: no fix, E: reckoned on without one. Others, unknown letters too, say nothing against it.
bool mode_says_no(std::string_view mode) {
  return mode == "N" || mode == "E";
}

/// GNS has one letter a satellite system; good if any of them has a fix.
bool all_modes_say_no(std::string_view modes) {
  return !modes.empty() &&
         std::all_of(modes.begin(), modes.end(), [](char c) { return c == 'N' || c == 'E'; });
}

/// Tells one sentence text from another; not for anything hostile.
/// @param text  at least 6 characters
std::uint64_t mixed_hash(std::string_view text) {
  constexpr std::uint64_t odd = 0x9E37'79B9'7F4A'7C15U;
  const auto eight_at = [&](std::size_t at) {
    std::uint64_t block = 0;
    std::memcpy(&block, text.data() + at, std::min<std::size_t>(8, text.size()));
    return block;
  };
  std::uint64_t even_blocks = text.size();
  std::uint64_t odd_blocks = 0;  // two chains run side by side
  std::size_t at = 0;
  for (; at + 16 <= text.size(); at += 16) {
    even_blocks = (std::rotl(even_blocks, 29) ^ eight_at(at)) * odd;
    odd_blocks = (std::rotl(odd_blocks, 29) ^ eight_at(at + 8)) * odd;
  }
  if (text.size() - at >= 8) {
    even_blocks = (std::rotl(even_blocks, 29) ^ eight_at(at)) * odd;
  }
  odd_blocks =
      (std::rotl(odd_blocks, 29) ^ eight_at(text.size() - std::min<std::size_t>(8, text.size()))) * odd;
  return even_blocks ^ std::rotl(odd_blocks, 32) ^ (even_blocks >> 32U);
}

/// The five letters behind `$` as a number.
std::uint64_t tag_of(std::string_view body) {
  std::uint64_t tag = 0;
  std::memcpy(&tag, body.data(), 5);
  return tag;
}

bool has_fix(SentenceKind kind, const Fields& fields) {
  switch (kind) {
    case SentenceKind::rmc:
      return fields[2] == "A" && !mode_says_no(fields[12]);
    case SentenceKind::gga:
      return !fields[6].empty() && fields[6] != "0" && fields[6] != "6";
    case SentenceKind::gns:
      return !fields[2].empty() && !all_modes_say_no(fields[6]);
    default:  // GLL; old ones have neither status nor mode
      return !fields[1].empty() && (fields[6].empty() || fields[6] == "A") && !mode_says_no(fields[7]);
  }
}

double number_or_unknown(std::string_view text) {
  return parse_decimal(text).value_or(unknown);
}

constexpr double mps_a_knot = Speed::from_knots(1.0).mps();
constexpr double mps_a_kmh = Speed::from_kmh(1.0).mps();

/// Size of the last of so many decimals.
double step_of(std::size_t decimals) {
  constexpr std::array<double, 8> steps = {1.0, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7};
  return steps[std::min(decimals, steps.size() - 1)];
}

WrittenSpeed written(std::string_view text, double unit_mps) {
  const auto number = parse_written(text);
  if (!number) {
    return {};
  }
  return {number->value * unit_mps, unit_mps * step_of(number->decimals), unknown, {}};
}

/// Both figures give the same speed, each cut off or rounded at its last digit.
bool agree(const WrittenSpeed& a, const WrittenSpeed& b) {
  return std::abs(a.mps - b.mps) <= a.step_mps + b.step_mps;
}

}  // namespace

WrittenSpeed read_vtg(const Sentence& sentence) {
  const Fields& fields = sentence.fields;
  const bool lettered = fields[2] == "T" || fields[4] == "M" || fields[6] == "N" || fields[8] == "K";
  WrittenSpeed speed;
  speed.talker = {sentence.body[0], sentence.body[1]};
  if (mode_says_no(fields[lettered ? 9 : 5])) {
    return speed;
  }
  WrittenSpeed best = written(fields[lettered ? 5 : 3], mps_a_knot);
  const std::string_view kmh = fields[lettered ? 7 : 4];
  if (!is_known(best.mps) || mps_a_kmh * step_of(decimals_of(kmh)) < 0.5 * best.step_mps) {
    const WrittenSpeed metric = written(kmh, mps_a_kmh);
    best = is_known(metric.mps) ? metric : best;
  }
  speed.mps = best.mps;
  speed.step_mps = best.step_mps;
  speed.course_deg = number_or_unknown(fields[1]);
  return speed;
}

double read_gsa_hdop(const Fields& fields) {
  return fields[2] == "1" ? unknown : number_or_unknown(fields[16]);
}

double read_gst_sd_m(const Fields& fields) {
  const double lat_m = number_or_unknown(fields[6]);
  const double lon_m = number_or_unknown(fields[7]);
  return std::sqrt(0.5 * (lat_m * lat_m + lon_m * lon_m));
}

NmeaEpoch::Repeat NmeaEpoch::look_up(const SentenceDigest& sentence) const {
  for (std::size_t i = 0; i < seen_count_; ++i) {
    if (seen_[i].tag == sentence.tag) {
      return seen_[i].hash == sentence.hash ? Repeat::same : Repeat::different;
    }
  }
  return Repeat::no;
}

void NmeaEpoch::remember(const SentenceDigest& sentence) {
  if (seen_count_ < seen_.size()) {
    seen_[seen_count_++] = sentence;
  }
}

void NmeaEpoch::restart() {
  line_ = 0;
  clock_us_.reset();
  day_.reset();
  valid_ = false;
  untimed_ = false;
  fix_ = Fix{};
  place_rank_ = 0;
  quality_rank_ = 0;
  rmc_ = WrittenSpeed{};
  vtg_count_ = 0;
  vtg_leads_ = false;
  seen_count_ = 0;
}

bool NmeaEpoch::add_position(const Sentence& sentence, std::size_t line) {
  const Fields& fields = sentence.fields;
  const auto clock_us = nmea_clock_us(fields[sentence.kind == SentenceKind::gll ? 5 : 1]);
  if (clock_us && clock_us_ && std::abs(*clock_us - *clock_us_) > same_instant_us) {
    return false;
  }
  const SentenceDigest digest{tag_of(sentence.body), mixed_hash(sentence.body)};
  const Repeat repeat = look_up(digest);
  if (repeat == Repeat::different || (repeat == Repeat::same && !clock_us)) {
    return false;  // the same sentence again with other content: a logger that writes whole seconds only
  }
  if (repeat == Repeat::same) {
    return true;
  }
  remember(digest);
  if (!clock_us_) {
    clock_us_ = clock_us;
    line_ = line;
  }
  if (!has_fix(sentence.kind, fields)) {
    return true;
  }
  if (!clock_us && sentence.kind != SentenceKind::gll) {  // old GLL have no time
    untimed_ = true;
    return true;
  }
  valid_ = true;
  take(sentence, fields);
  return true;
}

void NmeaEpoch::take(const Sentence& sentence, const Fields& fields) {
  switch (sentence.kind) {
    case SentenceKind::rmc:
      take_rmc(fields, sentence.mixed_talker);
      break;
    case SentenceKind::gll:
      take_place(fields, 1, sentence.mixed_talker);
      break;
    default:  // GGA and GNS have the same fields where it matters
      take_place(fields, 2, sentence.mixed_talker);
      take_quality(fields, sentence.mixed_talker);
      break;
  }
}

void NmeaEpoch::take_rmc(const Fields& fields, bool mixed) {
  take_place(fields, 3, mixed);
  WrittenSpeed speed = written(fields[7], mps_a_knot);
  speed.course_deg = number_or_unknown(fields[8]);
  if (is_known(speed.mps) && (!is_known(rmc_.mps) || speed.step_mps < rmc_.step_mps || mixed)) {
    rmc_ = speed;
  }
  if (const auto day = nmea_date_days(fields[9])) {
    day_ = day;
  }
}

/// Latitude, its letter, longitude, its letter from field `first` on.
void NmeaEpoch::take_place(const Fields& fields, std::size_t first, bool mixed) {
  const std::size_t rank = 2 * (decimals_of(fields[first]) + 1) + (mixed ? 1 : 0);
  if (rank <= place_rank_) {
    return;
  }
  const auto lat_deg = nmea_degrees(fields[first], fields[first + 1]);
  const auto lon_deg = nmea_degrees(fields[first + 2], fields[first + 3]);
  if (lat_deg && lon_deg) {
    fix_.lat_deg = *lat_deg;
    fix_.lon_deg = *lon_deg;
    place_rank_ = rank;
  }
}

void NmeaEpoch::take_quality(const Fields& fields, bool mixed) {
  const std::size_t rank = mixed ? 2 : 1;
  if (rank <= quality_rank_) {
    return;
  }
  quality_rank_ = rank;
  const double count = number_or_unknown(fields[7]);
  if (count >= 0.0 && count < 1000.0) {
    fix_.satellites = static_cast<int>(count);
  }
  fix_.hdop = number_or_unknown(fields[8]);
  fix_.ele_m = number_or_unknown(fields[9]);
}

void NmeaEpoch::add_vtg(const WrittenSpeed& vtg, bool sure) {
  if (vtg_count_ == 0) {
    vtg_leads_ = !clock_us_ && !sure;
    vtg_[vtg_count_++] = vtg;
  } else if (vtg.talker != vtg_[0].talker) {  // another talker's word on the same instant
    if (!is_known(vtg_[0].mps)) {
      vtg_[0] = vtg;
    }
  } else if (vtg_count_ < vtg_.size()) {
    vtg_[vtg_count_++] = vtg;
  }
}

/// Which VTG is this epoch's; vtg_count_ if none. VTG has no time: where there is an RMC, the one that agrees
/// with it; else the first, but one that came before the file's first time gives way to a later one.
std::size_t NmeaEpoch::choose_vtg() const {
  if (!is_known(rmc_.mps)) {
    return vtg_leads_ && vtg_count_ == 2 ? 1 : 0;
  }
  std::size_t i = 0;
  while (i < vtg_count_ && is_known(vtg_[i].mps) && !agree(vtg_[i], rmc_)) {
    ++i;
  }
  return i;
}

Fix NmeaEpoch::fix(std::optional<WrittenSpeed>& next_vtg) const {
  Fix fix = fix_;
  fix.speed_mps = rmc_.mps;
  fix.course_deg = rmc_.course_deg;
  const std::size_t mine = choose_vtg();
  if (mine < vtg_count_) {
    const WrittenSpeed& vtg = vtg_[mine];
    if (!is_known(rmc_.mps) || (is_known(vtg.mps) && vtg.step_mps < 0.5 * rmc_.step_mps)) {
      fix.speed_mps = vtg.mps;
    }
    if (!is_known(fix.course_deg)) {
      fix.course_deg = vtg.course_deg;
    }
  }
  next_vtg.reset();
  if (vtg_count_ > 0 && mine != vtg_count_ - 1) {
    next_vtg = vtg_[vtg_count_ - 1];
  }
  return fix;
}

}  // namespace bothways
