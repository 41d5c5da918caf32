#include "bothways/log/gpx_points.hpp"

#include "bothways/log/number.hpp"

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
    points_.begin(line);
    return XmlWant::attributes;
  }
  planned_ += name == GpxName::rtept || name == GpxName::wpt ? 1U : 0U;
  return XmlWant::nothing;
}

void GpxPoints::open_child(GpxName name) {
  points_.clear_text();
  wanted_ = GpxName::other;
  if (depth_ == 1) {
    in_extensions_ = name == GpxName::extensions;
    wanted_ = in_extensions_ ? GpxName::other : name;
  } else if (in_extensions_ && (name == GpxName::speed || name == GpxName::course)) {
    wanted_ = name;
  }
}

void GpxPoints::close(GpxName name) {
  if (depth_ == 0) {
    return;
  }
  --depth_;
  if (depth_ == 0) {
    points_.end();
  } else if (wanted_ == name && name != GpxName::other) {
    take_value(name);
  }
  wanted_ = GpxName::other;
}

void GpxPoints::take_value(GpxName name) {
  const std::string_view text = points_.take_text();
  Fix& fix = points_.fix();
  switch (name) {
    case GpxName::time:
      points_.set_time(points_.read_time(text));
      break;
    case GpxName::ele:
      keep_first(fix.ele_m, text);
      break;
    case GpxName::speed:
      keep_first(fix.speed_mps, text);
      break;
    case GpxName::course:
      keep_first(fix.course_deg, text);
      break;
    case GpxName::hdop:
      keep_first(fix.hdop, text);
      break;
    case GpxName::sat: {
      const double count = parse_decimal(text).value_or(-1.0);
      fix.satellites = count >= 0.0 && count < 1000.0 ? static_cast<int>(count) : -1;
      break;
    }
    default:
      break;
  }
}

}  // namespace bothways
