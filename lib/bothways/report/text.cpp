#include "bothways/report/text.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>
#include <string>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t gap = 2;                                             // blanks between columns
constexpr std::array<double, 4> half_last_place_s{0.5, 0.05, 0.005, 0.0};  // by decimals; the last is rounded

struct ColumnText {
  std::string heading;
  bool right = false;
  bool may_be_cut = false;  ///< cells of words; figures and times are shown whole or not at all
  std::vector<std::string> cells;
  std::size_t width = 0;
  bool empty = true;
};

struct CellText {
  bool times_only = false;
  int time_decimals = 3;
  int decimals = 0;  ///< of the estimates of this column

  std::string operator()(std::monostate /*empty*/) const { return ""; }
  std::string operator()(const std::string& text) const { return escaped(text); }
  std::string operator()(const Number& n) const {
    return std::isfinite(n.value) ? fixed(n.value, n.decimals) : "";
  }
  std::string operator()(const Estimate& e) const { return is_printable(e) ? plus_minus(e, decimals) : ""; }
  std::string operator()(const TimeCell& t) const {
    const auto places = static_cast<std::size_t>(std::clamp(time_decimals, 0, 3));
    const std::string iso = format_iso8601(shifted(t.at, half_last_place_s.at(places)));
    const std::string time = iso.substr(11, places == 0 ? 8 : 9 + places);
    return times_only || !t.dated ? time : iso.substr(0, 10) + " " + time;
  }
};

std::string heading_of(const Column& column) {
  if (!column.heading.empty()) {
    return escaped(column.heading);
  }
  std::string name = column.name.empty() ? "time" : column.name;
  std::replace(name.begin(), name.end(), '_', ' ');
  return escaped(column.unit.empty() ? name : name + " " + column.unit);
}

/// A figure in parts: before the point, from the point on, and the half-interval likewise.
struct Parts {
  std::string value;
  std::string value_decimals;
  std::string half;
  std::string half_decimals;
};

Parts parts_of(const std::string& cell) {
  static constexpr std::string_view sign = " ± ";
  const std::size_t at = cell.find(sign);
  const std::string value = cell.substr(0, at);
  const std::string half = at == std::string::npos ? "" : cell.substr(at + sign.size());
  const std::size_t point = std::min(value.find('.'), value.size());
  const std::size_t half_point = std::min(half.find('.'), half.size());
  return {value.substr(0, point), value.substr(point), half.substr(0, half_point), half.substr(half_point)};
}

void grow(std::size_t& width, const std::string& text) {
  width = std::max(width, text.size());
}

/// "0.3 to 5.9" in place of a figure with its ±.
bool is_interval(const std::string& cell) {
  return cell.find(" to ") != std::string::npos;
}

/// Puts points and ± of an estimate column under each other.
void align_estimates(std::vector<std::string>& cells) {
  std::size_t value = 0;
  std::size_t value_decimals = 0;
  std::size_t half = 0;
  std::size_t half_decimals = 0;
  for (const std::string& cell : cells) {
    if (is_interval(cell)) {
      continue;
    }
    const Parts parts = parts_of(cell);
    grow(value, parts.value);
    grow(value_decimals, parts.value_decimals);
    grow(half, parts.half);
    grow(half_decimals, parts.half_decimals);
  }
  for (std::string& cell : cells) {
    if (cell.empty() || is_interval(cell)) {
      continue;
    }
    Parts parts = parts_of(cell);
    parts.value_decimals.resize(value_decimals, ' ');
    parts.half_decimals.resize(half_decimals, ' ');
    const bool has_half = !parts.half.empty();
    cell = std::string(value - parts.value.size(), ' ') + parts.value + parts.value_decimals;
    cell += has_half ? " ± " : std::string(half > 0 ? 3 : 0, ' ');
    cell += std::string(half - parts.half.size(), ' ') + parts.half + parts.half_decimals;
  }
}

/// Decimals of the estimates in a column.
int decimals_of(const Table& table, std::size_t column) {
  std::vector<Estimate> estimates;
  for (const auto& row : table.rows) {
    if (const auto* estimate = std::get_if<Estimate>(&row.at(column))) {
      estimates.push_back(*estimate);
    }
  }
  return common_decimals(estimates);
}

std::vector<ColumnText> columns_of(const Table& table, CellText to_text, const TextOptions& options) {
  std::vector<ColumnText> columns;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    if (std::count(options.told_above.begin(), options.told_above.end(), table.columns[i].name) > 0) {
      continue;
    }
    ColumnText column{
        .heading = heading_of(table.columns[i]),
        .right = table.columns[i].kind == ColumnKind::number || table.columns[i].kind == ColumnKind::estimate,
        .may_be_cut = table.columns[i].kind == ColumnKind::text};
    column.width = display_width(column.heading);
    to_text.decimals = decimals_of(table, i);
    column.cells.reserve(table.rows.size());
    for (const auto& row : table.rows) {
      column.cells.push_back(std::visit(to_text, row.at(i)));
      column.empty = column.empty && column.cells.back().empty();
    }
    if (table.columns[i].kind == ColumnKind::estimate) {
      align_estimates(column.cells);
    }
    for (const std::string& cell : column.cells) {
      column.width = std::max(column.width, display_width(cell));
    }
    if (!column.empty || table.rows.empty()) {
      columns.push_back(std::move(column));
    }
  }
  return columns;
}

void put(std::string& line, const std::string& text, std::size_t width, bool right) {
  const std::size_t used = display_width(text);
  const std::size_t blanks = width > used ? width - used : 0;
  line.append(right ? blanks : 0, ' ');
  line += text;
  line.append(right ? 0 : blanks, ' ');
}

void write_block(std::ostream& out, const std::vector<const ColumnText*>& columns,
                 const TextOptions& options) {
  const std::size_t rows = columns.empty() ? 0 : columns.front()->cells.size();
  for (std::size_t row = 0; row <= rows; ++row) {
    std::string line(options.indent, ' ');
    for (const ColumnText* column : columns) {
      if (column != columns.front()) {
        line.append(gap, ' ');
      }
      put(line, row == 0 ? column->heading : column->cells[row - 1], column->width, column->right);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out << line << '\n';
  }
}

/// Columns from `from` on that fit beside the keys; at least one, so that folding ends.
std::vector<const ColumnText*> block_from(const std::vector<ColumnText>& columns, std::size_t from,
                                          const TextOptions& options) {
  std::vector<const ColumnText*> block;
  std::size_t used = options.indent;
  for (std::size_t i = 0; i < std::min(options.keys, from); ++i) {
    block.push_back(&columns[i]);
    used += columns[i].width + gap;
  }
  const std::size_t keys = block.size();
  for (std::size_t i = from; i < columns.size(); ++i) {
    if (used + columns[i].width > options.width && block.size() > keys) {
      break;
    }
    block.push_back(&columns[i]);
    used += columns[i].width + gap;
  }
  return block;
}

std::string shortened(const std::string& text, std::size_t width) {
  std::string result;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t next = i + 1;
    while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xC0U) == 0x80U) {
      ++next;
    }
    if (display_width(text.substr(0, next)) + 1 > width) {
      break;
    }
    i = next;
    result = text.substr(0, i);
  }
  return result + "…";
}

/// Columns that the table needs: of a folded one, its keys and the widest other column.
std::size_t needed_width(const std::vector<ColumnText>& columns, const TextOptions& options) {
  std::size_t sum = options.indent;
  std::size_t widest = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (options.keys == 0 || i < options.keys) {
      sum += columns[i].width + gap;
    } else {
      widest = std::max(widest, columns[i].width + gap);
    }
  }
  return sum + widest - std::min(gap, sum + widest);
}

void cut_to(ColumnText& column, std::size_t most) {
  if (column.width <= most) {
    return;
  }
  const auto cut = [most](std::string& text) {
    if (display_width(text) > most) {
      text = shortened(text, most);
    }
  };
  cut(column.heading);  // a rider's name of a set-up may stand there
  column.width = display_width(column.heading);
  for (auto& cell : column.cells) {
    if (column.may_be_cut) {
      cut(cell);
    }
    column.width = std::max(column.width, display_width(cell));
  }
}

/// Cuts long texts, the longest first, until the table fits or texts would say nothing.
void shorten_text(std::vector<ColumnText>& columns, const TextOptions& options) {
  const std::size_t least = options.keys == 0 ? 20 : 12;
  for (std::size_t most = options.width - options.indent;
       most >= least && needed_width(columns, options) > options.width; --most) {
    for (auto& column : columns) {
      cut_to(column, most);
    }
  }
}

}  // namespace

void write_text(std::ostream& out, const Table& table, const TextOptions& options) {
  std::vector<ColumnText> columns =
      columns_of(table, {options.times_only, options.time_decimals, 0}, options);
  shorten_text(columns, options);
  std::size_t from = 0;
  while (from < columns.size()) {
    const auto block = block_from(columns, from, options);
    write_block(out, block, options);
    from += block.size() - std::min(options.keys, from);
    if (from < columns.size() && options.keys == 0) {
      std::string left_out = "Not shown for lack of room:";
      for (; from < columns.size(); ++from) {
        left_out += (left_out.back() == ':' ? " " : ", ") + columns[from].heading;
      }
      out << wrapped(left_out + " (--format csv has all columns).", options.width) << '\n';
    }
    if (from < columns.size()) {
      out << '\n';
    }
  }
}

}  // namespace bothways
