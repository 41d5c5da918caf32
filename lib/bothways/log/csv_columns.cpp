#include "bothways/log/csv_columns.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/bytes.hpp"

#include <algorithm>
#include <array>

namespace bothways {

namespace {

struct Known {
  std::string_view name;
  CsvRole role;
};

constexpr std::array known_names = {
    Known{"time", CsvRole::time},
    Known{"timestamp", CsvRole::time},
    Known{"t", CsvRole::time},
    Known{"datetime", CsvRole::time},
    Known{"date_time", CsvRole::time},
    Known{"utc", CsvRole::time},
    Known{"time_utc", CsvRole::time},
    Known{"time_s", CsvRole::time},
    Known{"time_unix_s", CsvRole::time},
    Known{"t_unix_s", CsvRole::time},
    Known{"unix_s", CsvRole::time},
    Known{"unix_time", CsvRole::time},
    Known{"time_unix_us", CsvRole::time},
    Known{"time_ms", CsvRole::time},
    Known{"time_unix_ms", CsvRole::time},
    Known{"timestamp_ms", CsvRole::time},
    Known{"unix_ms", CsvRole::time},
    Known{"date", CsvRole::date},
    Known{"lat", CsvRole::lat},
    Known{"latitude", CsvRole::lat},
    Known{"lat_deg", CsvRole::lat},
    Known{"latitude_deg", CsvRole::lat},
    Known{"lon", CsvRole::lon},
    Known{"lng", CsvRole::lon},
    Known{"long", CsvRole::lon},
    Known{"longitude", CsvRole::lon},
    Known{"lon_deg", CsvRole::lon},
    Known{"longitude_deg", CsvRole::lon},
    Known{"ele", CsvRole::ele},
    Known{"ele_m", CsvRole::ele},
    Known{"elevation", CsvRole::ele},
    Known{"elevation_m", CsvRole::ele},
    Known{"alt", CsvRole::ele},
    Known{"altitude", CsvRole::ele},
    Known{"altitude_m", CsvRole::ele},
    Known{"speed", CsvRole::speed_unitless},
    Known{"speed_mps", CsvRole::speed_mps},
    Known{"speed_m_s", CsvRole::speed_mps},
    Known{"speed_kmh", CsvRole::speed_kmh},
    Known{"speed_km_h", CsvRole::speed_kmh},
    Known{"speed_kph", CsvRole::speed_kmh},
    Known{"speed_mph", CsvRole::speed_mph},
    Known{"speed_kn", CsvRole::speed_kn},
    Known{"speed_knots", CsvRole::speed_kn},
    Known{"speed_sd_mps", CsvRole::speed_sd},
    Known{"speed_accuracy_mps", CsvRole::speed_sd},
    Known{"speed_accuracy_m_s", CsvRole::speed_sd},
    Known{"course", CsvRole::course},
    Known{"course_deg", CsvRole::course},
    Known{"hdop", CsvRole::hdop},
    Known{"sat", CsvRole::satellites},
    Known{"satellites", CsvRole::satellites},
    Known{"position_sd_m", CsvRole::position_sd},
};

/// "Speed (km/h)" -> "speed_km_h": lower case, everything else one underscore.
std::string plain_name(std::string_view name) {
  std::string plain;
  for (const char c : name) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      plain += c;
    } else if (c >= 'A' && c <= 'Z') {
      plain += static_cast<char>(c - 'A' + 'a');
    } else if (!plain.empty() && plain.back() != '_') {
      plain += '_';
    }
  }
  while (!plain.empty() && plain.back() == '_') {
    plain.pop_back();
  }
  return plain;
}

CsvRole role_of(std::string_view plain) {
  const auto* found = std::find_if(known_names.begin(), known_names.end(),
                                   [&](const Known& known) { return known.name == plain; });
  return found == known_names.end() ? CsvRole::channel : found->role;
}

constexpr std::array unit_ends = {
    Known{"mps", CsvRole::speed_mps},  Known{"m_s", CsvRole::speed_mps},  Known{"kmh", CsvRole::speed_kmh},
    Known{"km_h", CsvRole::speed_kmh}, Known{"kph", CsvRole::speed_kmh},  Known{"kmph", CsvRole::speed_kmh},
    Known{"mph", CsvRole::speed_mph},  Known{"kn", CsvRole::speed_kn},    Known{"kt", CsvRole::speed_kn},
    Known{"kts", CsvRole::speed_kn},   Known{"knots", CsvRole::speed_kn},
};
constexpr std::array<std::string_view, 5> speed_words = {"speed", "velocity", "velo", "geschwindigkeit",
                                                         "geschw"};
constexpr std::array<std::string_view, 4> receiver_words = {"gps", "gnss", "over", "ground"};
constexpr std::array<std::string_view, 7> other_words = {"accuracy", "sd",  "std",     "error",
                                                         "wind",     "rpm", "vertical"};

std::vector<std::string_view> words_of(std::string_view plain) {
  std::vector<std::string_view> words;
  while (!plain.empty()) {
    const auto end = std::min(plain.find('_'), plain.size());
    words.push_back(plain.substr(0, end));
    plain.remove_prefix(std::min(end + 1, plain.size()));
  }
  return words;
}

template <std::size_t n>
bool is_one_of(std::string_view word, const std::array<std::string_view, n>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// The unit that a name ends in, behind another word; nullptr if it ends in none.
const Known* unit_end(std::string_view plain) {
  const auto* found = std::find_if(unit_ends.begin(), unit_ends.end(), [&](const Known& unit) {
    return plain == unit.name || (plain.ends_with(unit.name) && plain.size() > unit.name.size() &&
                                  plain[plain.size() - unit.name.size() - 1] == '_');
  });
  return found == unit_ends.end() ? nullptr : found;
}

/// A speed of the receiver by any of its usual names with a unit behind it: gps_speed_km_h, velocity_mps.
CsvRole speed_role(std::string_view plain) {
  const Known* unit = unit_end(plain);
  if (unit == nullptr) {
    return CsvRole::channel;
  }
  const auto words = words_of(plain.substr(0, plain.size() - unit->name.size()));
  const bool speed =
      std::any_of(words.begin(), words.end(), [](auto word) { return is_one_of(word, speed_words); });
  const bool plainly = std::all_of(words.begin(), words.end(), [](auto word) {
    return is_one_of(word, speed_words) || is_one_of(word, receiver_words);
  });
  return speed && plainly ? unit->role : CsvRole::channel;
}

/// The name of a column that may well hold the speed, though it cannot be told in which unit or of what.
bool sounds_like_speed(std::string_view plain) {
  const auto words = words_of(plain);
  if (std::any_of(words.begin(), words.end(), [](auto word) { return is_one_of(word, other_words); })) {
    return false;
  }
  return plain.find("speed") != std::string_view::npos || plain.find("velo") != std::string_view::npos ||
         plain.find("geschw") != std::string_view::npos || unit_end(plain) != nullptr;
}

}  // namespace

std::optional<std::size_t> CsvColumns::find(CsvRole role) const {
  const auto at = std::find(roles.begin(), roles.end(), role);
  if (at == roles.end()) {
    return std::nullopt;
  }
  return static_cast<std::size_t>(at - roles.begin());
}

bool CsvColumns::has_place() const {
  return find(CsvRole::lat) && find(CsvRole::lon);
}

bool CsvColumns::has_speed() const {
  return find(CsvRole::speed_mps) || find(CsvRole::speed_kmh) || find(CsvRole::speed_mph) ||
         find(CsvRole::speed_kn);
}

std::optional<std::size_t> CsvColumns::unread_speed() const {
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (roles[i] == CsvRole::speed_unitless ||
        (roles[i] == CsvRole::channel && sounds_like_speed(plain_name(names[i])))) {
      return i;
    }
  }
  return std::nullopt;
}

bool CsvColumns::has_results() const {
  const auto has = [&](std::string_view name) {
    return std::find(names.begin(), names.end(), name) != names.end();
  };
  return has("time_s") && has("lo95_s") && has("hi95_s");
}

bool split_csv(std::string_view line, char delimiter, std::vector<std::string>& cells, bool continued) {
  bool quoted = continued && !cells.empty();
  if (quoted) {
    cells.back() += '\n';
  } else {
    cells.assign(1, {});
  }
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += '"';
      ++i;
    } else if (c == '"' && (quoted || trimmed(cells.back()).empty())) {
      quoted = !quoted;
    } else if (c == delimiter && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  return !quoted;
}

CsvColumns read_csv_header(std::string_view line) {
  if (line.substr(0, utf8_bom.size()) == utf8_bom) {
    line.remove_prefix(utf8_bom.size());
  }
  CsvColumns columns;
  for (const char delimiter : {'\t', ';', ','}) {
    if (line.find(delimiter) != std::string_view::npos) {
      columns.delimiter = delimiter;
      break;
    }
  }
  split_csv(line, columns.delimiter, columns.names);
  for (std::string& name : columns.names) {
    name = std::string(trimmed(name));
    const CsvRole role = role_of(plain_name(name));
    const bool taken = role != CsvRole::channel && columns.find(role);
    columns.roles.push_back(taken ? CsvRole::channel : role);
  }
  for (std::size_t i = 0; i < columns.names.size() && !columns.has_speed(); ++i) {
    if (columns.roles[i] == CsvRole::channel) {
      columns.roles[i] = speed_role(plain_name(columns.names[i]));
    }
  }
  return columns;
}

bool is_csv_preamble(std::string_view line) {
  const std::string_view text = trimmed(line);
  return text.empty() || text.front() == '#' || (text.size() == 5 && text.substr(0, 4) == "sep=");
}

std::string_view csv_header_line(std::string_view text) {
  while (!text.empty()) {
    const auto end = std::min(text.find_first_of("\r\n"), text.size());
    if (!is_csv_preamble(text.substr(0, end))) {
      return text.substr(0, end);
    }
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return {};
}

bool is_csv_log_header(std::string_view text) {
  const std::string_view line = csv_header_line(text);
  if (line.empty()) {
    return false;
  }
  const CsvColumns columns = read_csv_header(line);
  return columns.find(CsvRole::time) && !columns.has_results() &&
         (columns.has_place() || columns.has_speed());
}

bool looks_like_header(const CsvColumns& columns) {
  constexpr std::size_t longest_name = 40;
  return columns.names.size() > 1 &&
         std::all_of(columns.names.begin(), columns.names.end(), [](const std::string& name) {
           const char first = name.empty() ? ' ' : name.front();
           return name.size() <= longest_name && !(first >= '0' && first <= '9') &&
                  std::string_view(" $<{[+-.").find(first) == std::string_view::npos;
         });
}

}  // namespace bothways
