#include "bothways/log/gpx_points.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/number.hpp"

#include <utility>

namespace bothways {

XmlWant GpxPoints::open(GpxName name, std::size_t line) {
  if (depth_ > 0) {
    open_child(name);
    ++depth_;
    return wanted_ == GpxName::other ? XmlWant::nothing : XmlWant::text;
  }
  if (name == GpxName::trkpt) {
    depth_ = 1;
    in_extensions_ = false;
    fix_ = Fix{};
    line_ = line;
    has_time_ = false;
    wrote_time_ = false;
    return XmlWant::attributes;
  }
  planned_ += name == GpxName::rtept || name == GpxName::wpt ? 1U : 0U;
  return XmlWant::nothing;
}

void GpxPoints::open_child(GpxName name) {
  text_.clear();
  too_long_ = false;
  wanted_ = GpxName::other;
  if (depth_ == 1) {
    in_extensions_ = name == GpxName::extensions;
    wanted_ = in_extensions_ ? GpxName::other : name;
  } else if (in_extensions_ && (name == GpxName::speed || name == GpxName::course)) {
    wanted_ = name;
  }
}

void GpxPoints::set_lat(std::string_view text) {
  fix_.lat_deg = parse_decimal(text).value_or(unknown);
}

void GpxPoints::set_lon(std::string_view text) {
  fix_.lon_deg = parse_decimal(text).value_or(unknown);
}

void GpxPoints::text(std::string_view piece) {
  if (text_.size() + piece.size() > limits_.field_bytes) {
    too_long_ = true;
    return;
  }
  text_ += piece;
}

void GpxPoints::close(GpxName name) {
  if (depth_ == 0) {
    return;
  }
  --depth_;
  if (depth_ == 0) {
    close_point();
  } else if (wanted_ == name && name != GpxName::other) {
    if (too_long_) {
      long_text_.add(line_);
    } else {
      take_value(name);
    }
  }
  wanted_ = GpxName::other;
}

void GpxPoints::take_value(GpxName name) {
  const auto keep_first = [this](double& value) {
    if (!is_known(value)) {
      value = parse_decimal(text_).value_or(unknown);
    }
  };
  switch (name) {
    case GpxName::time:
      take_time();
      break;
    case GpxName::ele:
      keep_first(fix_.ele_m);
      break;
    case GpxName::speed:
      keep_first(fix_.speed_mps);
      break;
    case GpxName::course:
      keep_first(fix_.course_deg);
      break;
    case GpxName::hdop:
      keep_first(fix_.hdop);
      break;
    case GpxName::sat: {
      const double count = parse_decimal(text_).value_or(-1.0);
      fix_.satellites = count >= 0.0 && count < 1000.0 ? static_cast<int>(count) : -1;
      break;
    }
    default:
      break;
  }
}

void GpxPoints::take_time() {
  if (has_time_ || trimmed(text_).empty()) {
    return;
  }
  wrote_time_ = true;
  if (const auto parsed = clock_.parse(text_)) {
    has_time_ = true;
    fix_.time = parsed->instant;
    if (!parsed->has_zone) {
      no_zone_.add(line_);
    }
  }
}

void GpxPoints::close_point() {
  if (has_time_) {
    draft_.make_room(used_, bytes_);
    draft_.add(fix_, line_, limits_.fixes);
  } else if (wrote_time_) {
    bad_time_.add(line_);
  } else {
    untimed_.add(line_);
  }
}

Draft GpxPoints::take_draft() {
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

}  // namespace bothways
