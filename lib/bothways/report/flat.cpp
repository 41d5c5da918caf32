#include "bothways/report/flat.hpp"

#include "bothways/report/number.hpp"
#include "bothways/report/record.hpp"
#include "bothways/report/words.hpp"

#include <array>
#include <cmath>
#include <stdexcept>

namespace bothways {

namespace {

std::string with_unit(const std::string& name, const std::string& unit) {
  return unit.empty() ? name : name + "_" + unit;
}

void append_estimate(std::vector<FlatCell>& flat, const Cell& cell) {
  const auto* estimate = std::get_if<Estimate>(&cell);
  if (estimate == nullptr || !is_printable(*estimate)) {
    flat.resize(flat.size() + 4);
    return;
  }
  for (const FieldValue& value : values_of(*estimate)) {
    flat.emplace_back(std::get<Number>(value));
  }
}

void append_time(std::vector<FlatCell>& flat, const Cell& cell) {
  const auto* time = std::get_if<TimeCell>(&cell);
  if (time == nullptr) {
    flat.resize(flat.size() + 2);
    return;
  }
  flat.emplace_back(iso_time(time->at, time->dated));
  flat.emplace_back(unix_s(time->at));
}

void append_plain(std::vector<FlatCell>& flat, const Cell& cell) {
  if (const auto* text = std::get_if<std::string>(&cell)) {
    flat.emplace_back(*text);
  } else if (const auto* n = std::get_if<Number>(&cell); n != nullptr && std::isfinite(n->value)) {
    flat.emplace_back(*n);
  } else {
    flat.emplace_back();
  }
}

bool fits(const Cell& cell, ColumnKind kind) {
  static constexpr std::array<std::size_t, 4> held{1, 2, 3, 4};  // order of Cell's alternatives
  return cell.index() == 0 || cell.index() == held.at(static_cast<std::size_t>(kind));
}

}  // namespace

std::vector<std::string> flat_names(const Table& table, bool json) {
  std::vector<std::string> names;
  for (const Column& column : table.columns) {
    switch (column.kind) {
      case ColumnKind::estimate:
        for (const Key& key : names_of(time_key(column.name, column.unit))) {
          names.push_back(key.column);
        }
        break;
      case ColumnKind::time:
        names.push_back(column.name);
        names.push_back(column.name + "_unix_s");
        break;
      case ColumnKind::text:
      case ColumnKind::number:
        names.push_back(json && !column.json.empty() ? column.json : with_unit(column.name, column.unit));
        break;
    }
  }
  return names;
}

std::vector<FlatCell> flat_row(const Table& table, const std::vector<Cell>& row) {
  std::vector<FlatCell> flat;
  flat.reserve(table.columns.size() + 8);  // a time or an estimate takes more than one
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const Cell& cell = row.at(i);
    const ColumnKind kind = table.columns[i].kind;
    if (!fits(cell, kind)) {
      throw std::invalid_argument("a cell of column " + table.columns[i].name + " is not of its kind");
    }
    if (kind == ColumnKind::estimate) {
      append_estimate(flat, cell);
    } else if (kind == ColumnKind::time) {
      append_time(flat, cell);
    } else {
      append_plain(flat, cell);
    }
  }
  return flat;
}

}  // namespace bothways
