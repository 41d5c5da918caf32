#include "bothways/report/record.hpp"

#include "bothways/report/number.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <stdexcept>
#include <utility>

namespace bothways {

namespace {

/// "sd", "s" to "sd_s"; words that are empty are left out, and without a first there is no name.
std::string joined(const std::string& before, const std::string& word, const std::string& unit) {
  std::string name = before.empty() ? word : before + "_" + word;
  return unit.empty() || name.empty() ? name : name + "_" + unit;
}

struct ToCell {
  Cell operator()(std::monostate nothing) const { return nothing; }
  Cell operator()(const std::string& text) const { return text; }
  Cell operator()(bool yes) const { return std::string(yes ? "yes" : "no"); }
  Cell operator()(long long whole) const { return Number{static_cast<double>(whole), 0}; }
  Cell operator()(const Number& figure) const { return figure; }
};

bool is_text(const Field& field) {
  return std::holds_alternative<std::string>(field.value) || std::holds_alternative<bool>(field.value);
}

/// The fields with a column; those of `first` before the others.
std::vector<const Field*> in_columns(const Record& record, const std::vector<std::string_view>& first) {
  std::vector<const Field*> fields;
  for (const Field& field : record) {
    if (!field.key.column.empty()) {
      fields.push_back(&field);
    }
  }
  const auto rank = [&](const Field* field) {
    return std::find(first.begin(), first.end(), field->key.column) - first.begin();
  };
  std::stable_sort(fields.begin(), fields.end(),
                   [&](const Field* a, const Field* b) { return rank(a) < rank(b); });
  return fields;
}

}  // namespace

EstimateKey time_key(const std::string& before, const std::string& unit) {
  return {.value = joined(before, "time", ""), .spread = before, .unit = unit};
}

EstimateKey quantity_key(const std::string& name, const std::string& unit) {
  return {.value = name, .spread = name, .unit = unit};
}

std::array<Key, 4> names_of(const EstimateKey& key) {
  const auto spread = [&](const char* word) {
    return Key(key.value.json.empty() ? "" : joined(key.spread.json, word, key.unit),
               key.value.column.empty() ? "" : joined(key.spread.column, word, key.unit));
  };
  return {Key(joined("", key.value.json, key.unit), joined("", key.value.column, key.unit)), spread("sd"),
          spread("lo95"), spread("hi95")};
}

std::array<FieldValue, 4> values_of(const Estimate& estimate, int decimals) {
  if (!is_printable(estimate)) {
    return {};
  }
  const Estimate e = decimals == machine_decimals ? rounded(estimate) : estimate;
  return {Number{e.value, decimals}, Number{e.sd, decimals}, Number{e.lo95, decimals},
          Number{e.hi95, decimals}};
}

void add_estimate(Record& record, const EstimateKey& key, const Estimate& estimate, int decimals) {
  std::array<Key, 4> names = names_of(key);
  std::array<FieldValue, 4> values = values_of(estimate, decimals);
  for (std::size_t i = 0; i < names.size(); ++i) {
    record.push_back({std::move(names.at(i)), std::move(values.at(i))});
  }
}

void append(Record& record, const Record& other, const std::string& before) {
  for (Field field : other) {
    field.key.column = field.key.column.empty() ? "" : before + field.key.column;
    record.push_back(std::move(field));
  }
}

FieldValue if_so(bool so, FieldValue value) {
  return so ? std::move(value) : FieldValue();
}

Number unix_s(Instant at) {
  return {static_cast<double>(at.unix_us) * 1e-6, machine_decimals};
}

Record emptied(Record record) {
  for (Field& field : record) {
    field.value = std::monostate{};
  }
  return record;
}

Table table_of(const std::string& name, const Record& empty, const std::vector<Record>& rows,
               const std::vector<std::string_view>& first) {
  Table table{name, {}, {}};
  for (const Field* field : in_columns(empty, first)) {
    table.columns.push_back({field->key.column, "", is_text(*field) ? ColumnKind::text : ColumnKind::number});
  }
  for (const Record& row : rows) {
    const auto fields = in_columns(row, first);
    std::vector<Cell> cells;
    for (std::size_t i = 0; i < fields.size(); ++i) {
      if (fields.size() != table.columns.size() || table.columns[i].name != fields[i]->key.column) {
        throw std::invalid_argument("a record of the table " + name + " has columns of its own");
      }
      table.columns[i].kind = is_text(*fields[i]) ? ColumnKind::text : table.columns[i].kind;
      cells.push_back(std::visit(ToCell{}, fields[i]->value));
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

Table table_of_kinds(const std::string& name, const std::vector<Record>& kinds,
                     const std::vector<Record>& rows) {
  const auto find = [](const Record& record, const std::string& column) {
    return std::find_if(record.begin(), record.end(),
                        [&](const Field& field) { return field.key.column == column; });
  };
  Record all;
  for (const Record& kind : kinds) {
    std::copy_if(kind.begin(), kind.end(), std::back_inserter(all),
                 [&](const Field& field) { return find(all, field.key.column) == all.end(); });
  }
  std::vector<Record> filled;
  for (const Record& row : rows) {
    Record wide = emptied(all);
    for (Field& field : wide) {
      const auto own = find(row, field.key.column);
      field.value = own != row.end() ? own->value : FieldValue();
    }
    filled.push_back(std::move(wide));
  }
  return table_of(name, all, filled);
}

}  // namespace bothways
