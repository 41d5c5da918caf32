#include "bothways/report/json.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/flat.hpp"
#include "bothways/report/number.hpp"

#include <nlohmann/json.hpp>

#include <ostream>

namespace bothways {

namespace {

using Json = nlohmann::ordered_json;

struct CellValue {
  Json operator()(std::monostate /*empty*/) const { return nullptr; }
  Json operator()(const std::string& text) const { return valid_utf8(text); }
  Json operator()(const Number& n) const {
    if (n.decimals == 0 && std::abs(n.value) < 9e15) {
      return static_cast<std::int64_t>(rounded(n.value, 0));
    }
    return rounded(n.value, n.decimals);
  }
};

Json row_object(const Table& table, const std::vector<std::string>& names, const std::vector<Cell>& row) {
  Json object = Json::object();
  const auto cells = flat_row(table, row);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!std::holds_alternative<std::monostate>(cells[i])) {
      object[names[i]] = std::visit(CellValue{}, cells[i]);
    }
  }
  return object;
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
  const auto names = flat_names(table);
  const char* before = first ? "\n" : ",\n";
  for (const auto& row : table.rows) {
    out << before << row_object(table, names, row).dump();
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
  const auto names = flat_names(table);
  for (const auto& row : table.rows) {
    out << row_object(table, names, row).dump() << '\n';
  }
}

}  // namespace bothways
