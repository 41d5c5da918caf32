#include "bothways/report/contract.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/logbook.hpp"
#include "bothways/report/rows.hpp"
#include "bothways/report/trip.hpp"
#include "fuzz/hostile.hpp"
#include "fuzz/invariants.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <charconv>
#include <iterator>
#include <sstream>
#include <string>
#include <utility>

/// Any texts as names of logs, folders, set-ups and columns, through everything that is written of a result.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using namespace bothways;
using bothways_fuzz::demand;

using Cells = std::vector<std::string>;

/// One cell of CSV after RFC 4180, and the rest of the text behind it.
std::string take_cell(std::string_view& text, char separator) {
  std::string cell;
  if (!text.starts_with('"')) {
    const std::size_t end = std::min(text.find(separator), text.find("\r\n"));
    demand(end < text.size());
    cell = text.substr(0, end);
    text.remove_prefix(end);
    demand(cell.find_first_of("\"\r\n") == std::string::npos);
    return cell;
  }
  for (std::size_t part = 0; text.starts_with('"'); ++part) {  // a quote in it is doubled
    text.remove_prefix(1);
    const std::size_t end = text.find('"');
    demand(end != std::string_view::npos);
    cell.append(part > 0 ? 1 : 0, '"');
    cell += text.substr(0, end);
    text.remove_prefix(end + 1);
  }
  return cell;
}

std::vector<Cells> records(std::string_view text, char separator) {
  std::vector<Cells> all;
  while (!text.empty()) {
    Cells& record = all.emplace_back();
    record.push_back(take_cell(text, separator));
    while (text.starts_with(separator)) {
      text.remove_prefix(1);
      record.push_back(take_cell(text, separator));
    }
    demand(text.starts_with("\r\n") && record.size() == all.front().size());
    text.remove_prefix(2);
  }
  return all;
}

bool is_number(std::string cell, char decimal) {
  std::replace(cell.begin(), cell.end(), decimal, '.');
  double value = 0.0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  return error == std::errc() && end == cell.data() + cell.size();
}

/// As a spreadsheet may show it: nothing in it is run.
std::string as_text(const std::string& name) {
  const std::string text = escaped(name);
  return !text.empty() && text != "-" && std::string_view("=+-@").find(text[0]) != std::string_view::npos
             ? "'" + text
             : text;
}

void check_csv(const Table& table, const CsvDialect& dialect, const std::string& path) {
  std::ostringstream out;
  write_csv(out, table, true, dialect);
  std::string text = out.str();
  text.erase(0, dialect.mark ? 3 : 0);
  const std::vector<Cells> all = records(text, dialect.separator);
  demand(all.size() == table.rows.size() + 1);
  for (const Cells& record : all) {
    for (const std::string& cell : record) {
      bothways_fuzz::demand_harmless(cell);
      demand(cell.empty() || std::string_view("=+-@").find(cell.front()) == std::string_view::npos ||
             cell == "-" || is_number(cell, dialect.decimal));
    }
  }
  const auto column = std::find(all[0].begin(), all[0].end(), "log");
  if (column != all[0].end() && all.size() > 1) {
    demand(all[1][static_cast<std::size_t>(column - all[0].begin())] == as_text(path));
  }
}

void check_table(const Table& table, const std::string& path) {
  check_csv(table, {}, path);
  check_csv(table, {.separator = ';', .decimal = ',', .mark = true}, path);
  std::ostringstream json;
  write_json(json, table);
  demand(nlohmann::json::parse(json.str())["rows"].size() == table.rows.size());
  std::ostringstream lines;
  write_jsonl(lines, table);
  const std::string text = lines.str();
  demand(static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) == table.rows.size());
}

template <typename Write>
std::string written(const Write& write) {
  std::ostringstream out;
  write(out);
  return out.str();
}

void check_lines(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    demand(nlohmann::json::accept(line));
  }
}

void check_text(const std::string& text, std::size_t width) {
  bothways_fuzz::demand_harmless(text, "\n");
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    demand(display_width(line) <= width);
  }
}

void check_result(bothways_fuzz::Texts texts, const SummaryOptions& options) {
  const Result result = result_of(texts);
  const std::string& path = result.rides.front().path;
  for (const Table& table :
       {runs_table(result), wide_runs_table(result), pairs_table(result), results_table(result, true)}) {
    check_table(table, path);
  }
  const auto json = nlohmann::json::parse(written([&](auto& out) { write_result_json(out, result); }));
  demand(json["logs"].size() == result.rides.size() && json["logs"][0]["path"] == valid_utf8(path));
  demand(json["logs"][0]["conditions"].value("setup", "") ==
         valid_utf8(result.rides.front().conditions->setup));
  check_lines(written([&](auto& out) { write_result_jsonl(out, result); }));
  check_lines(written([&](auto& out) { write_runs_json(out, result, true); }));
  check_lines(written([&](auto& out) { write_pairs_json(out, result, true); }));
  check_text(written([&](auto& out) { write_summary(out, result, options); }), options.width);
}

void check_compared(bothways_fuzz::Texts texts, const SummaryOptions& options) {
  const Compared compared = compared_of(texts);
  check_table(differences_table(compared), "");
  check_table(compared_table(compared), "");
  demand(nlohmann::json::accept(written([&](auto& out) { write_compared_json(out, compared); })));
  check_lines(written([&](auto& out) { write_compared_jsonl(out, compared); }));
  check_text(written([&](auto& out) { write_compared(out, compared, options); }), options.width);
}

void check_logbook(bothways_fuzz::Texts texts, const SummaryOptions& options) {
  const Logbook book = logbook_of(texts);
  check_table(logbook_table(book), "");
  check_text(written([&](auto& out) { write_logbook(out, book, options); }), options.width);
}

/// Trips, each with a column of that name beside its speeds.
void check_trips(bothways_fuzz::Texts texts, const SummaryOptions& options) {
  TripResult result;
  for (int i = 0; i < 2; ++i) {
    Trip trip{.path = texts.next(), .distance_m = normal_estimate(9000.0, 20.0), .moving_s = 600.0};
    trip.channels = {{.name = texts.next(), .standing = {3, -1.0, 2.0, 3.0}, .moving = {9, -2.0, 1.0, 2.0}}};
    trip.notes = {{"wild-speed", texts.next(), 0}};
    result.trips.push_back(std::move(trip));
  }
  check_table(trip_table(result), result.trips[0].path);
  const auto json = nlohmann::json::parse(written([&](auto& out) { write_trip_json(out, result); }));
  demand(json["trips"][0]["path"] == valid_utf8(result.trips[0].path));
  check_lines(written([&](auto& out) { write_trip_jsonl(out, result); }));
  check_text(written([&](auto& out) { write_trip(out, result, options); }), options.width);
}

void check_fixes(bothways_fuzz::Texts texts) {
  Log log{.path = texts.next(), .format = LogFormat::csv};
  log.fixes = {{.time = {1}, .speed_mps = 1.5}, {.time = {2}}};
  check_table(fixes_table(log), log.path);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr std::string_view fronts[] = {"", "=", "+", "-", "@", "\""};
  const bothways_fuzz::Texts texts({data, size}, fronts[size % std::size(fronts)]);
  const SummaryOptions options{.explain = size % 2 == 0, .width = 60 + size % 61};
  check_result(texts, options);
  check_compared(texts, options);
  check_logbook(texts, options);
  check_trips(texts, options);
  check_fixes(texts);
  return 0;
}
