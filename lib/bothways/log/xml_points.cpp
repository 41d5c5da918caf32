#include "bothways/log/xml_points.hpp"

#include "bothways/core/error.hpp"
#include "bothways/core/text.hpp"
#include "bothways/log/number.hpp"

#include <utility>

namespace bothways {

void XmlPoints::add_text(std::string_view piece) {
  if (text_.size() + piece.size() > options_.field_bytes) {
    too_long_ = true;
    return;
  }
  text_ += piece;
}

std::string_view XmlPoints::take_text() {
  if (too_long_) {
    long_text_.add(line_);
    return {};
  }
  return text_;
}

void XmlPoints::begin(std::size_t line) {
  fix_ = Fix{};
  line_ = line;
  has_time_ = false;
  wrote_time_ = false;
}

PointTime XmlPoints::read_time(std::string_view text) {
  const bool written = !trimmed(text).empty();
  return {written ? clock_.parse(text) : std::nullopt, written};
}

void XmlPoints::set_time(const PointTime& time) {
  if (has_time_) {
    return;
  }
  wrote_time_ = wrote_time_ || time.written;
  if (time.parsed) {
    has_time_ = true;
    fix_.time = time.parsed->instant;
    if (!time.parsed->has_zone) {
      no_zone_.add(line_);
    }
  }
}

void XmlPoints::end() {
  if (has_time_) {
    draft_.make_room(used_, bytes_);
    draft_.add(fix_, line_, options_.fixes);
  } else if (wrote_time_) {
    bad_time_.add(line_);
  } else {
    untimed_.add(line_);
  }
}

Draft XmlPoints::take_draft() {
  std::vector<Note>& notes = draft_.notes;
  add_note(notes, "no-time", untimed_, "track point without a time was left out",
           "track points without a time were left out");
  add_note(notes, "bad-time", bad_time_, "track point was left out because its time cannot be read",
           "track points were left out because their time cannot be read");
  add_note(notes, "no-zone", no_zone_, "time has no zone (no Z at its end); it was taken as UTC",
           "times have no zone (no Z at their end); they were taken as UTC");
  add_note(notes, "long-text", long_text_, "value is too long to be a number or a time and was left out",
           "values are too long to be a number or a time and were left out");
  return std::move(draft_);
}

ByteSource counted(const ByteSource& source, XmlPoints& points) {
  return [&source, &points](std::span<char> into) {
    const std::size_t got = source(into);
    points.add_used(got);
    return got;
  };
}

void refuse_unusable(const std::string& name, const XmlPoints& points, const XmlOutcome& outcome) {
  if (points.untimed() > 0) {
    throw LogError(name, 0,
                   "none of its track points has a time that can be read, so no speed can be worked out; "
                   "record the ride with times");
  }
  if (outcome.broken && outcome.at_end) {
    throw LogError(name, outcome.line,
                   "the file ends before its first track point is whole; export the ride again");
  }
  if (outcome.broken) {
    throw LogError(
        name, outcome.line,
        "the XML is broken before the first track point (" + outcome.reason + "); export the ride again");
  }
}

void keep_first(double& value, std::string_view text) {
  if (!is_known(value)) {
    value = parse_decimal(text).value_or(unknown);
  }
}

}  // namespace bothways
