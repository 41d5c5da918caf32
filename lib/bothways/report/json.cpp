#include "bothways/report/json.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/flat.hpp"
#include "bothways/report/number.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <ostream>
#include <string>
#include <vector>

namespace bothways {

namespace {

using Json = nlohmann::ordered_json;

/// Text as it stands in JSON.
std::string in_quotes(const std::string& text) {
  if (is_plain(text) && text.find_first_of("\"\\") == std::string::npos) {
    return '"' + text + '"';
  }
  return Json(valid_utf8(text)).dump();
}

/// A figure of at most 15 digits is the shortest that gives its double back, but for the zeros at its end;
/// what is written with an exponent or has more digits is left to the JSON library.
std::string figure(const Number& n) {
  const double size = std::abs(n.value);
  if (n.decimals == 0 && size < 9e15) {
    return fixed(n.value, 0);
  }
  if ((size < 1e-3 && size > 0.0) || size >= 1e8 || n.decimals < 1 || n.decimals > 7) {
    return Json(rounded(n.value, n.decimals)).dump();
  }
  std::string text = fixed(n.value, n.decimals);
  const std::size_t last = text.find_last_not_of('0');
  text.resize(last + (text[last] == '.' ? 2 : 1));
  return text;
}

struct CellValue {
  std::string operator()(std::monostate /*empty*/) const { return "null"; }
  std::string operator()(const std::string& text) const { return in_quotes(text); }
  std::string operator()(const Number& n) const { return figure(n); }
};

/// The column names as they stand before their values.
std::vector<std::string> keys_of(const Table& table) {
  std::vector<std::string> keys = flat_names(table, true);
  for (std::string& key : keys) {
    key = in_quotes(key) + ':';
  }
  return keys;
}

std::string row_object(const Table& table, const std::vector<std::string>& keys,
                       const std::vector<Cell>& row) {
  std::string object = "{";
  const auto cells = flat_row(table, row);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!std::holds_alternative<std::monostate>(cells[i])) {
      object += object.size() > 1 ? "," : "";
      object += keys[i];
      object += std::visit(CellValue{}, cells[i]);
    }
  }
  return object += '}';
}

}  // namespace

void write_json_head(std::ostream& out, std::string_view name, std::string_view clock) {
  out << R"({"schema":")" << json_schema << R"(","table":)" << Json(name).dump();
  if (!clock.empty()) {
    out << R"(,"clock":)" << Json(clock).dump();
  }
  out << R"(,"rows":[)";
}

void write_json_rows(std::ostream& out, const Table& table, bool first) {
  const auto keys = keys_of(table);
  const char* before = first ? "\n" : ",\n";
  for (const auto& row : table.rows) {
    out << before << row_object(table, keys, row);
    before = ",\n";
  }
}

void write_json_foot(std::ostream& out) {
  out << "]}\n";
}

void write_json(std::ostream& out, const Table& table, std::string_view clock) {
  write_json_head(out, table.name, clock);
  write_json_rows(out, table, true);
  write_json_foot(out);
}

void write_jsonl(std::ostream& out, const Table& table) {
  const auto keys = keys_of(table);
  for (const auto& row : table.rows) {
    out << row_object(table, keys, row) << '\n';
  }
}

}  // namespace bothways
