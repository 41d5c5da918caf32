#include "bothways/core/microseconds.hpp"
#include "bothways/log/lines.hpp"
#include "bothways/log/nmea_epoch.hpp"
#include "bothways/log/nmea_time.hpp"
#include "bothways/log/readers.hpp"

#include <optional>
#include <string>
#include <utility>

namespace bothways {

namespace {

constexpr std::size_t standard_length = 80;  // 82 with CR LF

/// Some sentence of the text has a right checksum: then all should.
bool uses_checksums(std::string_view text) {
  Sentence sentence;
  while (take_sentence(text, sentence)) {
    if (sentence.checksum == Checksum::right) {
      return true;
    }
  }
  return false;
}

/// Date and time of a ZDA.
std::optional<std::int64_t> read_zda_us(const Fields& fields) {
  const auto clock_us = nmea_clock_us(fields[1]);
  const std::string_view year = fields[4];
  if (!clock_us || year.size() != 4 || (year.substr(0, 2) != "19" && year.substr(0, 2) != "20")) {
    return std::nullopt;
  }
  std::string text(fields[2]);
  text += fields[3];
  text += year.substr(2);
  const auto day = nmea_date_days(text);
  if (!day || (year.substr(0, 2) == "19") != (year.substr(2) >= "80")) {
    return std::nullopt;
  }
  return *day * us_per_day + *clock_us;
}

class NmeaReader {
 public:
  explicit NmeaReader(const ReaderInput& input)
      : lines_(input.source, input.options.line_bytes),
        most_fixes_(input.options.fixes),
        bytes_(input.bytes),
        has_checksums_(uses_checksums(lines_.buffered())) {}

  Draft read() {
    Sentence sentence;
    while (!draft_.full && lines_.next()) {
      std::string_view rest = lines_.line();
      while (take_sentence(rest, sentence)) {
        if (is_sound(sentence, rest.empty() && !lines_.terminated())) {
          take(sentence);
        }
      }
    }
    finish_epoch();
    date_the_undated();
    add_notes();
    return std::move(draft_);
  }

 private:
  /// Checksum right, or none in a log that has none; a sentence that the end of the file may cut is not
  /// sound.
  bool is_sound(const Sentence& sentence, bool last) {
    if (sentence.length > standard_length) {
      long_.add(lines_.number());
    }
    if (sentence.checksum == Checksum::right) {
      has_checksums_ = true;
      return true;
    }
    if (last) {
      cut_.add(lines_.number());
      return false;
    }
    if (sentence.checksum == Checksum::absent && !has_checksums_) {
      without_checksum_.add(lines_.number());
      return true;
    }
    bad_checksum_.add(lines_.number());
    return false;
  }

  void take(const Sentence& sentence) {
    switch (sentence.kind) {
      case SentenceKind::vtg:
        epoch_.add_vtg(read_vtg(sentence));
        break;
      case SentenceKind::gsa:
        gsa_ = sentence.body;
        gsa_age_ = 0;
        break;
      case SentenceKind::gst:
        take_gst(sentence.fields);
        break;
      case SentenceKind::zda:
        if (const auto zda_us = read_zda_us(sentence.fields)) {
          calendar_.set_reference(*zda_us);
        }
        break;
      default:
        take_position(sentence);
        break;
    }
  }

  void take_position(const Sentence& sentence) {
    if (!epoch_.add_position(sentence, lines_.number())) {
      finish_epoch();
      static_cast<void>(epoch_.add_position(sentence, lines_.number()));
    }
    match_gst();
  }

  void take_gst(const Fields& fields) {
    gst_clock_us_ = nmea_clock_us(fields[1]);
    gst_sd_m_ = read_gst_sd_m(fields);
    match_gst();
  }

  /// GST has a time of its own and may come before or after the sentences of its instant.
  void match_gst() {
    if (gst_clock_us_ && epoch_.clock_us() == gst_clock_us_) {
      epoch_.set_position_sd(gst_sd_m_);
      gst_clock_us_.reset();
    }
  }

  void finish_epoch() {
    std::optional<WrittenSpeed> next_vtg;
    if (epoch_.valid() && epoch_.clock_us()) {
      Fix fix = epoch_.fix(next_vtg);
      if (!is_known(fix.hdop) && gsa_age_ <= 1) {  // GSA has no time: this instant's or its neighbour's
        fix.hdop = read_gsa_hdop(Fields(gsa_));
      }
      fix.time.unix_us = calendar_.place(*epoch_.clock_us(), epoch_.day());
      draft_.make_room(lines_.used(), bytes_);
      draft_.add(fix, epoch_.line(), most_fixes_);
      undated_ = calendar_.dated() ? undated_ : draft_.fixes.size();
    } else if (!epoch_.empty()) {
      (epoch_.valid() || epoch_.untimed_fix() ? no_time_ : no_fix_).add(epoch_.line());
    }
    ++gsa_age_;
    epoch_.restart();
    if (next_vtg) {
      epoch_.add_vtg(*next_vtg, true);
    }
  }

  /// The first fixes came before the first date: now it is known.
  void date_the_undated() {
    draft_.dated = calendar_.dated();
    if (calendar_.dated()) {
      for (std::size_t i = 0; i < undated_; ++i) {
        draft_.fixes[i].time.unix_us += calendar_.undated_shift_us();
      }
    }
  }

  void add_notes() {
    std::vector<Note>& notes = draft_.notes;
    add_note(notes, "bad-checksum", bad_checksum_, "sentence with a wrong or missing checksum was left out",
             "sentences with a wrong or missing checksum were left out");
    add_note(notes, "no-checksum", without_checksum_,
             "sentence has no checksum; it was used, but damage in it would go unseen",
             "sentences have no checksum; they were used, but damage in them would go unseen");
    add_note(notes, "long-sentence", long_,
             "sentence is longer than the 82 characters of the standard; it was used",
             "sentences are longer than the 82 characters of the standard; they were used");
    add_note(notes, "no-fix", no_fix_, "moment without a valid position was left out",
             "moments without a valid position were left out");
    add_note(notes, "no-time", no_time_, "position without a time of day was left out",
             "positions without a time of day were left out");
    add_note(notes, "long-line", lines_.too_long(), "line is too long to be part of a log and was left out",
             "lines are too long to be part of a log and were left out");
    if (cut_.count > 0) {
      notes.push_back({"cut-off", "the log ends in the middle of a sentence; what stands before it was used",
                       cut_.first_line});
    }
    if (!draft_.dated && !draft_.fixes.empty()) {
      notes.push_back({"no-date", "the log has times of day but no date (no RMC or ZDA sentence)", 0});
    }
  }

  LineReader lines_;
  std::size_t most_fixes_;
  std::size_t bytes_;
  Draft draft_;
  NmeaEpoch epoch_;
  NmeaCalendar calendar_;
  bool has_checksums_;
  std::optional<std::int64_t> gst_clock_us_;
  double gst_sd_m_ = unknown;
  std::string gsa_;          ///< the last one; empty before the first
  std::size_t gsa_age_ = 0;  ///< instants since it was read
  std::size_t undated_ = 0;  ///< so many fixes were placed before the first date
  Tally bad_checksum_;
  Tally without_checksum_;
  Tally long_;
  Tally cut_;
  Tally no_fix_;
  Tally no_time_;
};

}  // namespace

bool claims_nmea(std::string_view head) {
  for (std::size_t at = head.find('$'); at != std::string_view::npos; at = head.find('$', at + 1)) {
    if (sentence_kind(head.substr(at + 1, 6)) != SentenceKind::other) {
      return true;
    }
  }
  return false;
}

std::string lacks_nmea(std::string_view head) {
  return head.starts_with('$') ? "no sentence in it gives a position (RMC, GGA, GNS or GLL)" : "";
}

Draft read_nmea(const ReaderInput& input) {
  return NmeaReader(input).read();
}

}  // namespace bothways
