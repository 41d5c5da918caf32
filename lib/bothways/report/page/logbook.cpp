// The logbook as a page.
#include "bothways/report/logbook.hpp"

#include "bothways/report/csv.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/page/document.hpp"
#include "bothways/report/page/html.hpp"
#include "bothways/report/page/parts.hpp"
#include "bothways/report/page/spec.hpp"
#include "bothways/report/page/words.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cstddef>
#include <ostream>
#include <set>
#include <sstream>
#include <stdexcept>
#include <variant>

namespace bothways {

namespace {

using Texts = std::vector<std::string>;

Texts setups_of(const Logbook& book) {
  Texts names;
  for (const LogbookEntry& entry : book.entries) {
    const std::string name = escaped(entry.side.name);
    if (std::find(names.begin(), names.end(), name) == names.end()) {
      names.push_back(name);
    }
  }
  return names;
}

/// "0012 2026-05-04": in order whatever the days are, the day from the fifth letter.
std::string place_of(std::size_t i, const LogbookEntry& entry) {
  const std::string number = std::to_string(i + 1);
  return std::string(number.size() < 4 ? 4 - number.size() : 0, '0') + number + " " + day_of(entry);
}

Json times_table(const Logbook& book, const SplitSpec& split) {
  Json rows = Json::array();
  for (std::size_t i = 0; i < book.entries.size(); ++i) {
    const LogbookEntry& entry = book.entries[i];
    for (const Overall& row : entry.overall) {
      const Estimate& time = chosen(row, book.clock);
      if (row.spec.name == split.name && is_printable(time)) {
        const Estimate e = rounded(time);
        rows.push_back(
            {{"split", split.name},
             {"side", escaped(entry.side.name)},
             {"place", place_of(i, entry)},
             {"value", e.value},
             {"lo", e.lo95},
             {"hi", e.hi95},
             {"text", plus_minus(time) + " s, " + escaped(entry.side.name) + ", " + day_of(entry)}});
      }
    }
  }
  return rows;
}

Chart time_chart(const Logbook& book, std::size_t split) {
  constexpr std::size_t most_in_legend = 8;
  const Texts setups = setups_of(book);
  Json spec = empty_spec(260);
  add(spec, "data", R"json({"name": "times"})json");
  spec["data"][0]["name"] = "times" + std::to_string(split);
  Json x = Json::parse(R"json({"name": "x", "type": "band", "range": "width"})json");
  x["domain"] = {{"data", spec["data"][0]["name"]}, {"field", "place"}, {"sort", true}};
  Json y = Json::parse(
      R"json({"name": "y", "type": "linear", "range": "height", "zero": false, "nice": true})json");
  y["domain"] = {{"data", spec["data"][0]["name"]}, {"fields", {"lo", "hi"}}};
  spec["scales"].push_back(std::move(x));
  spec["scales"].push_back(std::move(y));
  add_shift(spec, setups, 0.0);
  add_sides(spec, setups, "one_hues");
  if (setups.size() > most_in_legend) {
    spec.erase("legends");
  }
  add(spec, "axes", R"json({"orient": "bottom", "scale": "x", "title": "days in order", "labelOverlap": true,
    "labelAngle": 0, "encode": {"labels": {"update": {"text": {"signal": "slice(datum.value, 5)"}}}}})json");
  add_axis(spec, "left", "s");
  add_intervals(spec, spec["data"][0]["name"].get<std::string>().c_str(), "y", "x", "place");
  const std::string& name = book.splits[split].name;
  return {"logbook" + std::to_string(split), name,
          "The two-way time of " + name + " of each set-up and day, with its 95 % interval.",
          std::move(spec)};
}

std::vector<Chart> time_charts(const Logbook& book) {
  std::vector<Chart> charts;
  for (std::size_t i = 0; i < book.splits.size(); ++i) {
    if (!times_table(book, book.splits[i]).empty()) {
      charts.push_back(time_chart(book, i));
    }
  }
  return charts;
}

std::string data_of(const Logbook& book, const std::vector<Chart>& charts, const std::string& version) {
  Json object{
      {"schema", json_schema}, {"version", version}, {"sides", Json::array()}, {"splits", Json::array()}};
  object["tables"] = Json::object();
  for (std::size_t i = 0; i < book.splits.size(); ++i) {
    object["tables"]["times" + std::to_string(i)] = times_table(book, book.splits[i]);
  }
  object["palettes"] = palettes();
  object["charts"] = Json::object();
  for (const Chart& chart : charts) {
    object["charts"][chart.id] = chart.spec;
  }
  return object.dump(-1, ' ', true, Json::error_handler_t::replace);
}

std::string change_sentence(const LogbookEntry& entry) {
  return day_of(entry) + ", " + entry.change->after + " against " + entry.change->before + ": " +
         change_words(entry);
}

std::string result_part_of(const Logbook& book) {
  const auto last = std::find_if(book.entries.rbegin(), book.entries.rend(),
                                 [](const LogbookEntry& entry) { return entry.change.has_value(); });
  if (last == book.entries.rend()) {
    return html_paragraph("No set-up follows another yet.", "lead");
  }
  std::string out = html_paragraph(
      last->change->after + " against " + last->change->before + ": " + change_words(*last), "lead");
  for (const Note& warning : last->change->warnings) {
    out += html_paragraph("Take care: " + warning.text, "warning");
  }
  return out;
}

std::string changes_part_of(const Logbook& book) {
  Texts texts;
  for (const LogbookEntry& entry : book.entries) {
    if (entry.change) {
      texts.push_back(change_sentence(entry));
    }
  }
  if (texts.empty()) {
    return html_paragraph("Nothing to put side by side yet.");
  }
  Texts warnings;
  for (const Note& warning : change_warnings(book)) {
    if (std::find(warnings.begin(), warnings.end(), warning.text) == warnings.end()) {
      warnings.push_back(warning.text);
    }
  }
  return html_paragraph("With all days of each set-up until then.", "small") + html_list(texts) +
         (warnings.empty() ? "" : "<h3>Take care</h3>\n" + html_list(warnings));
}

std::string entries_part_of(const Logbook& book) {
  const Table table = entries_for_people(book);
  Texts heads;
  for (const Column& column : table.columns) {
    heads.push_back(column.heading.empty() ? column.name : column.heading);
  }
  std::vector<Texts> rows;
  for (const auto& cells : table.rows) {
    auto& row = rows.emplace_back();
    for (const Cell& cell : cells) {
      const auto* text = std::get_if<std::string>(&cell);
      const auto* number = std::get_if<Number>(&cell);
      row.push_back(text != nullptr     ? *text
                    : number != nullptr ? fixed(number->value, number->decimals)
                                        : "");
    }
  }
  return html_table("Both ways, seconds; ± is the 95 % interval", heads, rows, "figures");
}

std::string method_part_of(const std::string& version) {
  std::string text;
  for (const std::string_view sentence : method_in_short()) {
    text += (text.empty() ? "" : " ") + std::string(sentence);
  }
  return html_paragraph(text) + "<h3>Cautions</h3>\n" +
         html_list(Texts(cautions().begin(), cautions().end())) +
         html_paragraph("Made by bothways " + version + ".", "small");
}

std::string csv_of(const Logbook& book) {
  std::ostringstream csv;
  write_csv(csv, logbook_table(book));
  return csv.str();
}

}  // namespace

void write_logbook_page(std::ostream& out, const Logbook& book, const PageParts& parts,
                        const std::string& version) {
  if (book.entries.empty()) {
    throw std::invalid_argument("a logbook's page needs an entry");
  }
  const std::vector<Chart> charts = time_charts(book);
  std::string figures;
  for (const Chart& chart : charts) {
    figures += figure_part(chart);
  }
  const std::string first = day_of(book.entries.front());
  fill_document(out, parts.logbook,
                {{"policy", policy_of(parts)},
                 {"title", html_text("Logbook" + (first.empty() ? "" : ", from " + first))},
                 {"style", std::string(parts.style)},
                 {"head", html_paragraph("Seconds: " + std::string(describe(book.clock)) +
                                             ", out and back taken together; ± is the 95 % interval.",
                                         "small")},
                 {"result", result_part_of(book)},
                 {"entries", entries_part_of(book)},
                 {"charts", figures},
                 {"changes", changes_part_of(book)},
                 {"method", method_part_of(version)},
                 {"csv", html_text_lines(csv_of(book))},
                 {"data", json_in_html(data_of(book, charts, version))},
                 {"runtime", std::string(parts.runtime)},
                 {"script", std::string(parts.script)}});
}

}  // namespace bothways
