#include "bothways/log/csv_columns.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/bytes.hpp"

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
  CsvColumns columns;
  for (const char delimiter : {'\t', ';', ','}) {
    if (line.find(delimiter) != std::string_view::npos) {
      columns.delimiter = delimiter;
      break;
    }
  }
  split_csv(line, columns.delimiter, columns.names);
  columns.roles.assign(columns.names.size(), CsvRole::channel);
  for (std::string& name : columns.names) {
    name = std::string(trimmed(name));
  }
  for (const Naming naming : namings) {
    for (std::size_t i = 0; i < columns.names.size(); ++i) {
      const CsvRole role = columns.roles[i] == CsvRole::channel
                               ? csv_role(plain_name(columns.names[i]), naming)
                               : CsvRole::channel;
      const bool taken = columns.find(role) || (is_speed(role) && columns.has_speed());
      columns.roles[i] = role == CsvRole::channel || taken ? columns.roles[i] : role;
    }
  }
  return columns;
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

}  // namespace bothways
