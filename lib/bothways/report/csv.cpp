#include "bothways/report/csv.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/flat.hpp"
#include "bothways/report/number.hpp"

#include <algorithm>
#include <ostream>
#include <utility>

namespace bothways {

namespace {

struct CsvCell {
  std::string& line;
  const CsvDialect& dialect;

  void operator()(std::monostate /*empty*/) const {}
  void operator()(const std::string& text) const { line += csv_field(text, dialect); }
  void operator()(const Number& n) const {
    std::string figure = fixed(n.value, n.decimals);
    std::replace(figure.begin(), figure.end(), '.', dialect.decimal);
    line += figure;
  }
};

}  // namespace

std::string csv_field(std::string_view text, const CsvDialect& dialect) {
  std::string field = escaped(text);
  // Spreadsheets run a cell that starts so; "-" alone is standard input's name and no formula.
  if (!field.empty() && std::string_view("=+-@").find(field.front()) != std::string_view::npos &&
      field != "-") {
    field.insert(0, 1, '\'');
  }
  if (field.find_first_of(std::string{dialect.separator, '"'}) == std::string::npos) {
    return field;
  }
  std::string quoted = "\"";
  for (const char c : field) {
    quoted.append(c == '"' ? 2 : 1, c);
  }
  return quoted + '"';
}

void write_csv(std::ostream& out, const Table& table, bool header, const CsvDialect& dialect) {
  const std::string separator(1, dialect.separator);
  std::string before;
  if (header) {
    out << (dialect.mark ? "\xEF\xBB\xBF" : "");
    for (const std::string& name : flat_names(table)) {
      out << std::exchange(before, separator) << csv_field(name, dialect);
    }
    out << "\r\n";
  }
  std::string line;
  for (const auto& row : table.rows) {
    line.clear();
    before.clear();
    for (const FlatCell& cell : flat_row(table, row)) {
      line += std::exchange(before, separator);
      std::visit(CsvCell{line, dialect}, cell);
    }
    out << (line += "\r\n");
  }
}

}  // namespace bothways
