#include "bothways/report/csv.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/flat.hpp"
#include "bothways/report/number.hpp"

#include <ostream>
#include <utility>

namespace bothways {

namespace {

struct CellText {
  std::string& line;

  void operator()(std::monostate /*empty*/) const {}
  void operator()(const std::string& text) const { line += csv_field(text); }
  void operator()(const Number& n) const { line += fixed(n.value, n.decimals); }
};

}  // namespace

std::string csv_field(std::string_view text) {
  std::string field = escaped(text);
  // Spreadsheets run a cell that starts so; "-" alone is standard input's name and no formula.
  if (!field.empty() && std::string_view("=+-@").find(field.front()) != std::string_view::npos &&
      field != "-") {
    field.insert(0, 1, '\'');
  }
  if (field.find_first_of(",\"") == std::string::npos) {
    return field;
  }
  std::string quoted = "\"";
  for (const char c : field) {
    quoted.append(c == '"' ? 2 : 1, c);
  }
  return quoted + '"';
}

void write_csv(std::ostream& out, const Table& table, bool header) {
  const char* before = "";
  if (header) {
    for (const std::string& name : flat_names(table)) {
      out << std::exchange(before, ",") << csv_field(name);
    }
    out << "\r\n";
  }
  std::string line;
  for (const auto& row : table.rows) {
    line.clear();
    before = "";
    for (const FlatCell& cell : flat_row(table, row)) {
      line += std::exchange(before, ",");
      std::visit(CellText{line}, cell);
    }
    out << (line += "\r\n");
  }
}

}  // namespace bothways
