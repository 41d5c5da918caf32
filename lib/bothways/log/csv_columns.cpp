#include "bothways/log/csv_columns.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/bytes.hpp"
#include "bothways/log/readers.hpp"

#include <algorithm>
#include <array>

namespace bothways {

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

std::optional<std::size_t> CsvColumns::unread_time() const {
  constexpr std::array<std::string_view, 7> words = {"time",  "zeit", "uhr",  "clock",
                                                     "heure", "hora", "stamp"};
  for (std::size_t i = 0; i < names.size(); ++i) {
    const std::string plain = plain_name(names[i]);
    if (roles[i] == CsvRole::channel && std::any_of(words.begin(), words.end(), [&](std::string_view word) {
          return plain.find(word) != std::string::npos;
        })) {
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

namespace {

/// What a row of units below the header may hold, as plain names.
constexpr std::array<std::string_view, 24> units = {
    "s",   "sec", "ms",   "us",  "min", "h",   "utc", "deg", "degrees", "m",   "ft",   "km",
    "m_s", "mps", "km_h", "kmh", "kph", "mph", "kn",  "kt",  "knots",   "rpm", "m_s2", "g"};

bool is_unit_cell(std::string_view plain) {
  return plain.empty() || std::find(units.begin(), units.end(), plain) != units.end();
}

void give_roles(CsvColumns& columns) {
  columns.roles.assign(columns.names.size(), CsvRole::channel);
  for (const Naming naming : namings) {
    for (std::size_t i = 0; i < columns.names.size(); ++i) {
      const CsvRole role = columns.roles[i] == CsvRole::channel
                               ? csv_role(plain_name(columns.names[i]), naming)
                               : CsvRole::channel;
      const bool taken = columns.find(role) || (is_speed(role) && columns.has_speed());
      columns.roles[i] = role == CsvRole::channel || taken ? columns.roles[i] : role;
    }
  }
}

}  // namespace

CsvColumns read_csv_header(std::string_view line) {
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
  }
  give_roles(columns);
  return columns;
}

bool add_units(CsvColumns& columns, std::string_view text) {
  std::vector<std::string> cells;
  text.remove_prefix(std::min(text.find_first_not_of("\r\n"), text.size()));
  if (!split_csv(text.substr(0, text.find_first_of("\r\n")), columns.delimiter, cells) ||
      cells.size() != columns.names.size()) {
    return false;
  }
  const auto not_a_unit = [](const std::string& cell) {
    return !cell.empty() && !is_unit_cell(plain_name(cell));
  };
  const bool all_empty =
      std::all_of(cells.begin(), cells.end(), [](const auto& cell) { return cell.empty(); });
  if (all_empty || std::any_of(cells.begin(), cells.end(), not_a_unit)) {
    return false;
  }
  for (std::size_t i = 0; i < cells.size(); ++i) {
    columns.names[i] += (cells[i].empty() ? "" : " ") + cells[i];
  }
  give_roles(columns);
  return true;
}

bool is_csv_preamble(std::string_view line) {
  const std::string_view text = trimmed(line);
  return text.empty() || text.front() == '#' || (text.size() == 5 && text.substr(0, 4) == "sep=");
}

namespace {

/// So many lines may stand before the header.
constexpr std::size_t most_lines_before = 100;

std::string_view take_line(std::string_view& text) {
  const auto end = std::min(text.find_first_of("\r\n"), text.size());
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(std::min(end + 1, text.size()));
  return line;
}

bool is_log_header(std::string_view line) {
  // Sentences and rows of figures, told quickly: there may be many before it is clear that there is no
  // header.
  if (line.empty() || std::string_view("$<{0123456789").find(line.front()) != std::string_view::npos ||
      line.find_first_of("\t;,") == std::string_view::npos) {
    return false;
  }
  const CsvColumns columns = read_csv_header(line);
  return columns.find(CsvRole::time) && !columns.has_results() &&
         (columns.has_place() || columns.has_speed());
}

}  // namespace

std::string_view csv_header_line(std::string_view text) {
  if (text.starts_with(utf8_bom)) {
    text.remove_prefix(utf8_bom.size());
  }
  std::string_view first;
  for (std::size_t lines = 0; lines < most_lines_before && !text.empty();) {
    const std::string_view line = take_line(text);
    if (is_csv_preamble(line)) {
      continue;
    }
    if (is_log_header(line)) {
      return line;
    }
    first = first.empty() ? line : first;
    ++lines;
  }
  return first;
}

bool is_csv_log_header(std::string_view text) {
  return is_log_header(csv_header_line(text));
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

bool claims_csv(std::string_view head) {
  return is_csv_log_header(head);
}

std::string lacks_csv(std::string_view head) {
  const CsvColumns columns = read_csv_header(csv_header_line(head));
  if (columns.has_results()) {
    return "it holds times that this program has written";
  }
  const bool time = columns.find(CsvRole::time).has_value();
  if (const auto unread = columns.unread_speed(); time && unread) {
    return "its column \"" + columns.names[*unread] +
           "\" is no speed in a known unit (name it speed_mps, speed_kmh, speed_mph or speed_kn) and there "
           "is no lat and lon";
  }
  if (time) {
    return "it has a time column, but neither lat and lon nor a speed with its unit (speed_kmh)";
  }
  if (const auto unread = columns.unread_time(); unread && (columns.has_place() || columns.has_speed())) {
    return "its column \"" + columns.names[*unread] +
           "\" is no time in a known form (name it time, time_s, time_ms or time_unix_s)";
  }
  if (columns.has_place() || columns.has_speed() || looks_like_header(columns)) {
    return "its header names no time column (time, time_unix_s or time_unix_ms)";
  }
  return {};
}

}  // namespace bothways
