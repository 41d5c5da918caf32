#include "bothways/report/words.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"

#include <array>
#include <cmath>

namespace bothways {

namespace {

double turned(double heading_deg) {
  const double turn = std::fmod(heading_deg, 360.0);
  return turn < 0.0 ? turn + 360.0 : turn;
}

/// Bytes of the longest start of `word` that fits in `width` columns; at least one code point.
std::size_t bytes_that_fit(std::string_view word, std::size_t width) {
  std::size_t end = 0;
  while (end < word.size()) {
    std::size_t next = end + 1;
    while (next < word.size() && (static_cast<unsigned char>(word[next]) & 0xC0U) == 0x80U) {
      ++next;
    }
    if (end > 0 && display_width(word.substr(0, next)) > width) {
      break;
    }
    end = next;
  }
  return end;
}

class Lines {
 public:
  Lines(std::size_t width, std::string_view first, std::string_view rest, LongWords long_words)
      : width_(width),
        rest_(rest),
        text_(first),
        used_(display_width(first)),
        breaks_words_(long_words == LongWords::broken) {}

  void add(std::string_view word) {
    if (!fresh_ && used_ + 1 + display_width(word) > width_) {
      line_break();
    }
    if (!fresh_) {
      text_ += ' ';
      ++used_;
    }
    while (breaks_words_ && used_ + display_width(word) > width_ && used_ < width_) {
      const std::size_t part = bytes_that_fit(word, width_ - used_);
      if (part == word.size()) {
        break;
      }
      text_ += word.substr(0, part);
      word.remove_prefix(part);
      line_break();
    }
    text_ += word;
    used_ += display_width(word);
    fresh_ = false;
  }

  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  void line_break() {
    text_ += '\n';
    text_ += rest_;
    used_ = display_width(rest_);
    fresh_ = true;
  }

  std::size_t width_;
  std::string rest_;
  std::string text_;
  std::size_t used_;
  bool breaks_words_;
  bool fresh_ = true;
};

}  // namespace

std::string compass_word(double heading_deg) {
  static constexpr std::array<const char*, 8> words{"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
  const double eighth = std::floor(turned(heading_deg) / 45.0 + 0.5);
  return words.at(static_cast<std::size_t>(eighth) % words.size());
}

std::string direction_words(double heading_deg) {
  if (!std::isfinite(heading_deg)) {
    return "";
  }
  const double degrees = std::fmod(rounded(turned(heading_deg), 0), 360.0);
  return compass_word(heading_deg) + " " + fixed(degrees, 0) + "°";
}

std::string time_of_day(Instant at) {
  return format_iso8601(shifted(at, 0.5)).substr(11, 8);
}

std::string date_words(Instant at) {
  return format_iso8601(at).substr(0, 10);
}

std::string iso_time(Instant at, bool dated) {
  const std::string text = format_iso8601(at);
  return dated ? text : text.substr(text.find('T') + 1);
}

std::string source_words(SpeedSource source) {
  return source == SpeedSource::reported ? "speed as the receiver reported it"
                                         : "speed worked out from positions (none was reported)";
}

std::string marks_words(bool chosen) {
  return chosen ? " Marks chosen from what these starts reach; use --splits for others." : "";
}

std::string count_of(std::size_t n, std::string_view one, std::string_view many) {
  return std::to_string(n) + " " + std::string(n == 1 ? one : many);
}

std::string count_of_fixes(std::size_t fixes, std::size_t readings) {
  return readings > 0 ? count_of(fixes, "row", "rows") + " from " + count_of(readings, "reading", "readings")
                      : count_of(fixes, "fix", "fixes");
}

std::string wrapped(std::string_view text, std::size_t width, std::string_view first, std::string_view rest,
                    LongWords long_words) {
  Lines lines(width, first, rest, long_words);
  while (!text.empty()) {
    const std::size_t start = text.find_first_not_of(' ');
    if (start == std::string_view::npos) {
      break;
    }
    text.remove_prefix(start);
    const std::size_t end = text.find(' ');
    lines.add(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end);
  }
  return lines.text();
}

}  // namespace bothways
