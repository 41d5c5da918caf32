#pragma once

#include "bothways/core/rounding.hpp"
#include "bothways/report/table.hpp"

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace bothways {

// Each result as records: its figures listed once, with the keys that programs know them by. A table is made
// of records, a JSON object of the contract is a record, so a new figure or a new format is written once.

/// Nothing, text, yes or no, a whole number, or a figure with its decimals. A figure that is not finite
/// counts as nothing.
using FieldValue = std::variant<std::monostate, std::string, bool, long long, Number>;

/// What a field is called. Most have one name; a few are told by one kind of writer only, or by another name.
struct Key {
  std::string json;    ///< key of an object of the contract, unit in it; empty: not there
  std::string column;  ///< column of a table; empty: not there

  Key(const char* both) : json(both), column(both) {}         // NOLINT(google-explicit-constructor)
  Key(const std::string& both) : json(both), column(both) {}  // NOLINT(google-explicit-constructor)
  Key(std::string in_json, std::string in_table) : json(std::move(in_json)), column(std::move(in_table)) {}

  [[nodiscard]] bool operator==(const Key&) const = default;
};

struct Field {
  Key key;
  FieldValue value;

  [[nodiscard]] bool operator==(const Field&) const = default;
};

/// One thing and all that is told of it, in the order of the contract.
using Record = std::vector<Field>;

/// What the four figures of an estimate are called: `value`, then `sd`, `lo95` and `hi95` with `spread` and
/// an underscore before each; the unit at the end of all four.
struct EstimateKey {
  Key value;
  Key spread;
  std::string unit = "s";
};

/// time_s, sd_s, lo95_s, hi95_s, with `before` (if any) and an underscore before each.
[[nodiscard]] EstimateKey time_key(const std::string& before = "", const std::string& unit = "s");

/// distance_m, distance_sd_m, distance_lo95_m, distance_hi95_m
[[nodiscard]] EstimateKey quantity_key(const std::string& name, const std::string& unit);

/// The names of the four figures; the one place that makes them.
[[nodiscard]] std::array<Key, 4> names_of(const EstimateKey& key);

/// The four figures; four of nothing where one is not finite.
[[nodiscard]] std::array<FieldValue, 4> values_of(const Estimate& estimate, int decimals = machine_decimals);

/// Adds the four figures of an estimate under their names.
void add_estimate(Record& record, const EstimateKey& key, const Estimate& estimate,
                  int decimals = machine_decimals);

/// Adds the fields of another record, their columns with `before` put before them.
void append(Record& record, const Record& other, const std::string& before = "");

/// Nothing where it is not so.
[[nodiscard]] FieldValue if_so(bool so, FieldValue value);

/// Seconds from 1970, to the thousandth.
[[nodiscard]] Number unix_s(Instant at);

/// The same fields without their values.
[[nodiscard]] Record emptied(Record record);

/// Rows of several kinds in one table: the columns of all of them in order of appearance, each row filled
/// where it has the column.
[[nodiscard]] Table table_of_kinds(const std::string& name, const std::vector<Record>& kinds,
                                   const std::vector<Record>& rows);

/// The fields that have a column, a row a record.
/// @param empty  a record that names the columns, also where there is no row
/// @param rows   each with the fields of `empty`
/// @param first  columns that come first, in this order; the others follow in that of the record
/// @throws std::invalid_argument  if a row has other columns than `empty`
[[nodiscard]] Table table_of(const std::string& name, const Record& empty, const std::vector<Record>& rows,
                             const std::vector<std::string_view>& first = {});

}  // namespace bothways
