#include "bothways/log/kml_track.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>

namespace bothways {

XmlWant KmlTrack::open(KmlName name, std::size_t line) {
  wanted_ = KmlName::other;
  if (name == KmlName::track) {
    ++tracks_;
  }
  if (tracks_ == 0) {
    planned_ += name == KmlName::coordinates ? 1U : 0U;
    return XmlWant::nothing;
  }
  if (name == KmlName::array) {
    role_ = CsvRole::channel;
    return XmlWant::attributes;
  }
  if (name != KmlName::when && name != KmlName::coord && name != KmlName::value) {
    return XmlWant::nothing;
  }
  wanted_ = name;
  line_ = line;
  points_.begin(line);
  points_.clear_text();
  return XmlWant::text;
}

void KmlTrack::name_values(std::string_view name) {
  constexpr std::size_t longest_name = 80;
  const std::string plain = plain_name(name);
  role_ = csv_role(plain);
  if (!is_speed(role_) && sounds_like_speed(plain) && unread_speed_.empty()) {
    unread_speed_ = name.substr(0, longest_name);
  }
  if (!is_speed(role_) || !speeds_mps_.empty()) {  // the first list of speeds counts
    role_ = CsvRole::channel;
  }
}

void KmlTrack::close(KmlName name) {
  if (name == KmlName::track && tracks_ > 0 && --tracks_ == 0) {
    finish();
  } else if (wanted_ == name && name != KmlName::other) {
    take_value(name);
  }
  wanted_ = KmlName::other;
}

void KmlTrack::take_value(KmlName name) {
  const std::string_view text = points_.take_text();
  if (name == KmlName::when && times_.size() <= longest_) {
    times_.push_back({points_.read_time(text), line_});
  } else if (name == KmlName::coord && places_.size() <= longest_) {
    take_place(text);
  } else if (name == KmlName::value && is_speed(role_) && speeds_mps_.size() <= longest_) {
    speeds_mps_.push_back(as_mps(role_, parse_decimal(text).value_or(unknown)));
  }
}

/// `longitude latitude height`, apart by white space; empty where the receiver had no place.
void KmlTrack::take_place(std::string_view text) {
  Place place;
  place.line = line_;
  for (double* figure : {&place.lon_deg, &place.lat_deg, &place.ele_m}) {
    text = trimmed(text);
    const auto end = std::min(text.find_first_of(" \t\r\n"), text.size());
    *figure = parse_decimal(text.substr(0, end)).value_or(unknown);
    text.remove_prefix(end);
  }
  places_.push_back(place);
}

void KmlTrack::finish() {
  const std::size_t count = std::max(times_.size(), places_.size());
  for (std::size_t i = 0; i < count && !points_.full(); ++i) {
    points_.begin(i < times_.size() ? times_[i].line : places_[i].line);
    if (i < times_.size()) {
      points_.set_time(times_[i].time);
    }
    Fix& fix = points_.fix();
    if (i < places_.size()) {
      fix.lat_deg = places_[i].lat_deg;
      fix.lon_deg = places_[i].lon_deg;
      fix.ele_m = places_[i].ele_m;
    }
    fix.speed_mps = i < speeds_mps_.size() ? speeds_mps_[i] : unknown;
    points_.end();
  }
  times_.clear();
  places_.clear();
  speeds_mps_.clear();
}

void KmlTrack::add_notes(std::vector<Note>& notes) const {
  if (!unread_speed_.empty()) {
    notes.push_back(
        {"speed-without-unit",
         "the values \"" + unread_speed_ +
             "\" do not say in which unit they are a speed and were not used; speed comes from the positions",
         0});
  }
}

}  // namespace bothways
