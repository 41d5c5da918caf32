#include "bothways/core/split_spec.hpp"

#include "bothways/core/text.hpp"
#include "bothways/core/unit_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double largest_speed_mps = 500.0;
constexpr double largest_length_m = 100'000.0;
constexpr double least_speed_mps =
    0.5;  // who gains less in the first foot pulls below 0.4 m/s2: no test start

[[noreturn]] void refuse(std::string_view item, std::string_view why) {
  throw std::invalid_argument(fmt::format(
      "'{}' is no split: {}; write for example 0-30 mph, 50-70 km/h, 60 ft or 1/4 mi", item, why));
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

bool is_speed(const UnitName& unit) {
  return unit.dimension == Dimension::speed;
}

Mark mark_of(const UnitName& unit, double value) {
  if (is_speed(unit)) {
    return Speed::from_mps(value * unit.factor);
  }
  return Length::from_m(value * unit.factor);
}

const UnitName& unit_of(std::string_view item, std::string_view text) {
  constexpr const char* known = "mph, km/h, m/s, kn, ft, m, yd, mi, km";
  const std::string name = plain_unit_name(text);
  for (const Dimension dimension : {Dimension::speed, Dimension::length}) {
    if (const UnitName* found = find_unit(name, dimension)) {
      return *found;
    }
  }
  if (std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; })) {
    refuse(item, "a split has one mark or two, and a comma stands between splits");
  }
  refuse(item, text.empty() ? fmt::format("the unit is missing ({})", known)
                            : fmt::format("'{}' is none of the units {}", text, known));
}

/// What stands between two numbers; takes it.
bool take_hyphen(std::string_view& text) {
  for (const std::string_view hyphen : {"-", "–", "—", "−", "‐", "‑", "‒", "to "}) {
    if (text.starts_with(hyphen)) {
      text.remove_prefix(hyphen.size());
      return true;
    }
  }
  return false;
}

/// A time is told from the first foot on: what lies within it has none.
void require_after_foot(std::string_view item, const UnitName& unit, double from, double to) {
  const double first = (from > 0.0 ? from : to) * unit.factor;
  if (is_speed(unit) ? from == 0.0 && first < least_speed_mps : first <= rollout_m) {
    refuse(item, "the clock starts after the first foot (0.30 m) of travel, and this lies within it");
  }
}

/// @param item  with its unit, which may be that of a later item of the list
SplitSpec parse_one(std::string_view item) {
  std::string_view rest = item;
  const auto first = take_number(rest);
  if (!first) {
    refuse(item, "it must start with a number");
  }
  rest = trimmed(rest);
  std::optional<Number> second;
  if (take_hyphen(rest)) {
    rest = trimmed(rest);
    second = take_number(rest);
    if (!second) {
      refuse(item, "a number must follow the hyphen");
    }
    rest = trimmed(rest);
  }
  const double from = second ? first->value : 0.0;
  const Number& end = second ? *second : *first;
  if (from > 0.0 && end.value == 0.0) {
    refuse(item, "braking is not timed, only gaining speed");
  }
  const UnitName& unit = unit_of(item, rest);
  if (!(end.value > from)) {
    refuse(item, "it must end higher than it starts");
  }
  if (end.value * unit.factor > (is_speed(unit) ? largest_speed_mps : largest_length_m)) {
    refuse(item, "that is more than any vehicle here reaches");
  }
  require_after_foot(item, unit, from, end.value);
  SplitSpec spec{{}, mark_of(unit, from), mark_of(unit, end.value)};
  if (second && (from > 0.0 || is_speed(unit))) {
    spec.name = fmt::format("{}-{} {}", from > 0.0 ? first->text : "0", end.text, unit.shown);
  } else {
    spec.name = fmt::format("{}{} {}", is_speed(unit) ? "0-" : "", end.text, unit.shown);
  }
  return spec;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// "0-48,3 km/h" may be 48.3, or 48 and 3: asked, not guessed. "0-30,0-50 mph" is a list.
void refuse_decimal_comma(std::string_view text) {
  for (std::size_t at = text.find(','); at != std::string_view::npos; at = text.find(',', at + 1)) {
    if (at == 0 || at + 1 == text.size() || !is_digit(text[at - 1]) || !is_digit(text[at + 1])) {
      continue;
    }
    std::string_view after = text.substr(at + 1);
    (void)take_number(after);
    after = trimmed(after);
    if (!take_hyphen(after)) {
      refuse(text, "write decimals with a point, 48.3, and a list with a blank after each comma");
    }
  }
}

/// The unit that ends an item; empty where it has none.
std::string_view unit_text(std::string_view item) {
  const std::size_t last = item.find_last_of("0123456789");
  return last == std::string_view::npos ? "" : trimmed(item.substr(last + 1));
}

/// The items of a list, each with its unit. One that has none takes that of the item after it: "0-30, 0-50
/// km/h". A range from zero, 0-30, is one of speeds.
std::vector<std::string> items_of(std::string_view text) {
  refuse_decimal_comma(text);
  std::vector<std::string> items;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find_first_of(",;", begin), text.size());
    if (const std::string_view item = trimmed(text.substr(begin, end - begin)); !item.empty()) {
      items.emplace_back(item);
    }
    begin = end + 1;
  }
  std::string unit;
  for (std::size_t i = items.size(); i-- > 0;) {
    std::string& item = items[i];
    const std::string own(unit_text(item));
    const bool is_length = find_unit(plain_unit_name(unit), Dimension::length) != nullptr;
    if (own.empty() && !unit.empty() && !(is_length && item.starts_with('0'))) {
      item += ' ' + unit;
    }
    unit = own.empty() ? unit : own;
  }
  return items;
}

}  // namespace

bool SplitSpec::from_rest() const {
  return std::visit([](const auto& mark) { return mark == std::decay_t<decltype(mark)>{}; }, from);
}

std::vector<SplitSpec> parse_splits(std::string_view text) {
  std::vector<SplitSpec> splits;
  for (const std::string& item : items_of(text)) {
    SplitSpec spec = parse_one(item);
    if (std::none_of(splits.begin(), splits.end(),
                     [&](const SplitSpec& other) { return other.name == spec.name; })) {
      splits.push_back(std::move(spec));
    }
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
