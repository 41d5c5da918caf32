#include "bothways/report/page/parts.hpp"

#include "bothways/report/compared_conditions.hpp"
#include "bothways/report/conditions.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/page/html.hpp"
#include "bothways/report/page/tables.hpp"
#include "bothways/report/page/words.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <set>

namespace bothways {

namespace {

using Texts = std::vector<std::string>;

std::string joined(const Texts& texts, const std::string& between) {
  std::string out;
  for (const std::string& text : texts) {
    out += (out.empty() ? "" : between) + text;
  }
  return out;
}

std::string row_of(const std::string& name, const std::string& value) {
  return value.empty() ? ""
                       : "<div><dt>" + html_text(name) + "</dt><dd>" + html_text(value) + "</dd></div>\n";
}

Texts file_names(const std::vector<Ride>& rides) {
  Texts names;
  for (const Ride& ride : rides) {
    names.push_back(file_name_of(ride.path));
  }
  return names;
}

std::string logs_words(const std::vector<Ride>& rides) {
  constexpr std::size_t most_named = 4;
  if (rides.size() > most_named) {
    return count_of(rides.size(), "log", "logs");
  }
  return joined(file_names(rides), ", ");
}

std::string fixes_words(const Ride& ride) {
  const double rate = ride.receiver.rate_hz;
  return count_of_fixes(ride.fixes, ride.readings) + ", " + fixed(rate, rate < 0.95 ? 2 : 0) + " a second; " +
         source_words(ride.source);
}

Texts side_conditions(const Side& side, bool metric) {
  const auto conditions = conditions_of(side);
  return conditions ? condition_phrases(*conditions, metric) : Texts{};
}

std::string overall_sentence(const Overall& row, Clock clock, int decimals) {
  const Shown s = shown(chosen(row, clock), decimals);
  return row.spec.name + ": " + s.value + " s ± " + s.half + " s, " +
         count_of(static_cast<std::size_t>(std::max(row.pairs, 0)), "pair", "pairs") + " both ways" +
         (row.days > 1 ? " on " + std::to_string(row.days) + " days" : "");
}

std::string no_result_sentence(const PageWork& work) {
  const std::size_t runs = count_runs(work.page.compared.sides.front().rides);
  return runs == 0 ? "No run was found: no standing start counts. The list below says why."
                   : count_of(runs, "run", "runs") +
                         ", but no pair out and back: slope and wind are in the times of the runs.";
}

/// A text without the names of the folders of logs and conditions.
std::string without_folders(std::string text, const std::vector<Side>& sides) {
  const auto shorten = [&text](const std::string& path) {
    const std::string name = file_name_of(path);
    for (std::size_t at = text.find(path); path.size() > name.size() && at != std::string::npos;
         at = text.find(path)) {
      text.replace(at, path.size(), name);
    }
  };
  for (const Side& side : sides) {
    for (const Ride& ride : side.rides) {
      shorten(ride.path);
      if (ride.conditions) {
        shorten(ride.conditions->file);
      }
    }
  }
  return text;
}

std::string with_side(const Side& side, const std::string& text) {
  return side.name.empty() ? text : side.name + ": " + text;
}

}  // namespace

std::string file_name_of(const std::string& path) {
  if (path == "-") {
    return "standard input";
  }
  const std::size_t end = path.find_last_not_of('/');
  const std::size_t slash = path.find_last_of('/', end);
  return path.substr(slash == std::string::npos ? 0 : slash + 1);
}

std::string days_words(const std::vector<Ride>& rides) {
  std::set<std::string> days;
  for (const Ride& ride : rides) {
    if (ride.dated) {
      days.insert(date_words(ride.first));
      days.insert(date_words(ride.last));
    }
  }
  if (days.empty()) {
    return "";
  }
  const char* joint = days.size() == 2 ? " and " : " to ";
  return *days.begin() + (days.size() > 1 ? joint + *days.rbegin() : "");
}

Texts result_sentences(const PageWork& work) {
  Texts out;
  const Compared& compared = work.page.compared;
  for (const Comparison& comparison : compared.comparisons) {
    const std::string who =
        compared.comparisons.size() > 1 ? comparison.after + " against " + comparison.before + ", " : "";
    for (const Difference& row : comparison.differences) {
      out.push_back(who + row.text);
    }
  }
  if (compared.comparisons.empty()) {
    for (const PageSplit& split : work.splits) {
      const auto& overall = split.sides.front().overall;
      if (split.asked && overall && is_printable(chosen(*overall, compared.clock))) {
        out.push_back(overall_sentence(*overall, compared.clock, split.sides.front().decimals.overall));
      }
    }
  }
  return out;
}

std::string head_part(const PageWork& work) {
  std::string out;
  for (const Side& side : work.page.compared.sides) {
    out += "<dl>\n";
    out += row_of("side", side.name);
    out += row_of("ridden", days_words(side.rides));
    out += row_of(side.rides.size() == 1 ? "log" : "logs", logs_words(side.rides));
    out += row_of("readings", side.rides.size() == 1 ? fixes_words(side.rides.front()) : "");
    out += row_of("runs", count_of(count_runs(side.rides), "run", "runs") + ", " +
                              count_of(side.pairs.made.size(), "pair", "pairs") + " out and back");
    out += row_of("conditions", joined(side_conditions(side, work.page.compared.metric), "; "));
    out += "</dl>\n";
  }
  return out;
}

std::string result_part(const PageWork& work) {
  const Texts sentences = result_sentences(work);
  if (sentences.empty()) {
    return html_paragraph(no_result_sentence(work), "lead");
  }
  std::string out = html_paragraph(sentences.front(), "lead");
  for (std::size_t i = 1; i < sentences.size(); ++i) {
    out += html_paragraph(sentences[i], "also");
  }
  out += html_paragraph(
      "Seconds: " + std::string(describe(work.page.compared.clock)) + ". ± and brackets: the 95 % interval.",
      "small");
  for (const Result& result : work.results) {
    if (const std::string mixed = mixed_setups_words(result); !mixed.empty()) {
      out += html_paragraph("Take care: " + mixed + ".", "warning");
    }
  }
  for (const Side& side : work.page.compared.sides) {
    for (const Note& note : notes_by_kind(pointers_to(side.rides), true)) {
      out += html_paragraph(
          "Take care: " + with_side(side, without_folders(note.text, work.page.compared.sides)), "warning");
    }
  }
  for (const Note& warning : warnings_of(work.page.compared)) {
    out += html_paragraph("Take care: " + without_folders(warning.text, work.page.compared.sides), "warning");
  }
  return out;
}

std::string figure_part(const Chart& chart) {
  const std::string id = html_text(chart.id);
  return "<figure id=\"figure-" + id + "\" data-chart=\"" + id + "\">\n<h3>" + html_text(chart.title) +
         "</h3>\n<div class=\"chart\" data-label=\"" + html_text(chart.title + ". " + chart.caption) +
         "\"></div>\n<figcaption>" + html_text(chart.caption) + "</figcaption>\n</figure>\n";
}

std::string left_out_part(const PageWork& work) {
  std::string out;
  for (const Side& side : work.page.compared.sides) {
    for (const Ride& ride : side.rides) {
      Texts texts;
      for (const Json& start : ride_tables(work.page, ride, side).others) {
        texts.push_back(start["text"].get<std::string>());
      }
      if (!texts.empty()) {
        out += "<h3>" +
               html_text(with_side(side, file_name_of(ride.path)) + ": " +
                         count_of(texts.size(), "start that does not count", "starts that do not count")) +
               "</h3>\n" + html_list(texts);
      }
    }
  }
  return out.empty() ? html_paragraph("Every start counts.")
                     : html_paragraph("Minutes and seconds from the beginning of the log.", "small") + out;
}

namespace {

/// Notes of a ride and of its runs.
void add_notes(const PageWork& work, const Side& side, const Ride& ride, Texts& texts) {
  for (const Note& note : ride.notes) {
    const std::string line = note.line > 0 ? ", line " + std::to_string(note.line) : "";
    texts.push_back(with_side(side, file_name_of(ride.path)) + line + ": " +
                    without_folders(note.text, work.page.compared.sides));
  }
  for (const Run& run : ride.runs.accepted) {
    for (const Note& note : run.notes) {
      texts.push_back(with_side(side, "run " + std::to_string(run.id) + ": " + note.text));
    }
  }
}

/// Notes of pairs, and why runs have no partner.
void add_notes(const Side& side, Texts& texts) {
  for (const Pair& pair : side.pairs.made) {
    for (const Note& note : pair.notes) {
      texts.push_back(with_side(side, "pair " + std::to_string(pair.id) + ": " + note.text));
    }
  }
  for (const Single& single : side.pairs.single) {
    texts.push_back(with_side(side, "run " + std::to_string(single.run) + " stands alone: " + single.text));
  }
}

}  // namespace

std::string notes_part(const PageWork& work) {
  Texts texts;
  for (const Side& side : work.page.compared.sides) {
    for (const Ride& ride : side.rides) {
      add_notes(work, side, ride, texts);
    }
    add_notes(side, texts);
  }
  return texts.empty() ? html_paragraph("None.") : html_list(texts);
}

std::string method_part(const PageWork& work) {
  std::string text;
  for (const std::string_view sentence : method_in_short()) {
    text += (text.empty() ? "" : " ") + std::string(sentence);
  }
  std::string out = html_paragraph(text);
  for (const PowerResult& result : work.page.power) {
    if (!result.mass_from.empty() && !result.power.rows.empty()) {
      out += html_paragraph(without_folders("Power rests on: " + joined(load_words(result), "; ") + ".",
                                            work.page.compared.sides));
    }
  }
  out += "<h3>Cautions</h3>\n" + html_list(Texts(cautions().begin(), cautions().end()));
  return out + html_paragraph("Made by bothways " + work.page.version + ".", "small");
}

}  // namespace bothways
