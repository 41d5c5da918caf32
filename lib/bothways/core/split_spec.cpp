#include "bothways/core/split_spec.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace bothways {

namespace {

struct UnitName {
  std::string_view typed;
  std::string_view shown;
  bool is_speed;
  double factor;  // to m/s or m
};

constexpr std::array<UnitName, 13> unit_names{{{"mph", "mph", true, mps_per_mph},
                                               {"km/h", "km/h", true, mps_per_kmh},
                                               {"kmh", "km/h", true, mps_per_kmh},
                                               {"kph", "km/h", true, mps_per_kmh},
                                               {"m/s", "m/s", true, 1.0},
                                               {"kn", "kn", true, mps_per_knot},
                                               {"ft", "ft", false, m_per_foot},
                                               {"m", "m", false, 1.0},
                                               {"yd", "yd", false, m_per_yard},
                                               {"mile", "mi", false, m_per_mile},
                                               {"miles", "mi", false, m_per_mile},
                                               {"mi", "mi", false, m_per_mile},
                                               {"km", "km", false, 1000.0}}};

constexpr double largest_speed_mps = 500.0;
constexpr double largest_length_m = 100'000.0;

[[noreturn]] void refuse(std::string_view item, std::string_view why) {
  throw std::invalid_argument(fmt::format(
      "'{}' is no split: {}; write for example 0-30 mph, 50-70 km/h, 60 ft or 1/4 mi", item, why));
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) {
    return {};
  }
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

struct Number {
  double value;
  std::string_view text;
};

std::optional<double> take_plain(std::string_view& text) {
  double value = 0.0;
  const auto [end, error] =
      std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (error != std::errc{} || value < 0.0 || !std::isfinite(value)) {
    return std::nullopt;
  }
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

/// A number or a fraction such as 1/4.
std::optional<Number> take_number(std::string_view& text) {
  const std::string_view before = text;
  const auto value = take_plain(text);
  if (!value) {
    return std::nullopt;
  }
  double result = *value;
  if (text.size() > 1 && text[0] == '/' && text[1] >= '1' && text[1] <= '9') {
    text.remove_prefix(1);
    const auto divisor = take_plain(text);
    if (!divisor || *divisor == 0.0) {
      return std::nullopt;
    }
    result /= *divisor;
  }
  return Number{result, before.substr(0, before.size() - text.size())};
}

Mark mark_of(const UnitName& unit, double value) {
  if (unit.is_speed) {
    return Speed::from_mps(value * unit.factor);
  }
  return Length::from_m(value * unit.factor);
}

const UnitName& unit_of(std::string_view item, std::string_view text) {
  const auto* found = std::find_if(unit_names.begin(), unit_names.end(),
                                   [&](const UnitName& unit) { return unit.typed == text; });
  if (found == unit_names.end()) {
    refuse(item, text.empty() ? "the unit is missing" : fmt::format("'{}' is no unit known here", text));
  }
  return *found;
}

SplitSpec parse_one(std::string_view item) {
  std::string_view rest = item;
  const auto first = take_number(rest);
  if (!first) {
    refuse(item, "it must start with a number");
  }
  rest = trimmed(rest);
  std::optional<Number> second;
  if (!rest.empty() && rest.front() == '-') {
    rest = trimmed(rest.substr(1));
    second = take_number(rest);
    if (!second) {
      refuse(item, "a number must follow the hyphen");
    }
    rest = trimmed(rest);
  }
  const UnitName& unit = unit_of(item, rest);
  const double from = second ? first->value : 0.0;
  const Number& end = second ? *second : *first;
  if (!(end.value > from)) {
    refuse(item, "it must end higher than it starts");
  }
  if (end.value * unit.factor > (unit.is_speed ? largest_speed_mps : largest_length_m)) {
    refuse(item, "that is more than any vehicle here reaches");
  }
  SplitSpec spec{{}, mark_of(unit, from), mark_of(unit, end.value)};
  if (second && (from > 0.0 || unit.is_speed)) {
    spec.name = fmt::format("{}-{} {}", from > 0.0 ? first->text : "0", end.text, unit.shown);
  } else {
    spec.name = fmt::format("{}{} {}", unit.is_speed ? "0-" : "", end.text, unit.shown);
  }
  return spec;
}

}  // namespace

bool SplitSpec::from_rest() const {
  return std::visit([](const auto& mark) { return mark == std::decay_t<decltype(mark)>{}; }, from);
}

std::vector<SplitSpec> parse_splits(std::string_view text) {
  std::vector<SplitSpec> splits;
  std::size_t begin = 0;
  while (begin <= text.size()) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    const std::string_view item = trimmed(text.substr(begin, end - begin));
    if (!item.empty()) {
      SplitSpec spec = parse_one(item);
      const bool known = std::any_of(splits.begin(), splits.end(),
                                     [&](const SplitSpec& other) { return other.name == spec.name; });
      if (!known) {
        splits.push_back(std::move(spec));
      }
    }
    begin = end + 1;
  }
  if (splits.empty()) {
    refuse(text, "nothing is asked");
  }
  return splits;
}

std::vector<SplitSpec> default_splits(bool metric) {
  return parse_splits(metric ? "0-30 km/h, 0-50 km/h, 0-70 km/h, 50-70 km/h"
                             : "0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph");
}

}  // namespace bothways
