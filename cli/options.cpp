#include "cli/options.hpp"

#include "bothways/core/unit_names.hpp"
#include "cli/command.hpp"
#include "cli/conditions.hpp"
#include "cli/file_format.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <thread>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

po::typed_value<std::string>* word(const char* name) {
  return po::value<std::string>()->value_name(name);
}

std::string text_of(const po::variables_map& values, const std::string& name, const char* otherwise = "") {
  return values.count(name) > 0 ? values[name].as<std::string>() : otherwise;
}

/// The value that stands beside the word given.
template <typename Value, std::size_t n>
Value choice(const po::variables_map& values, const std::string& name,
             const std::array<std::pair<const char*, Value>, n>& words) {
  const std::string given = text_of(values, name, words.front().first);
  std::string all;
  for (const auto& [text, value] : words) {
    if (given == text) {
      return value;
    }
    all += (all.empty() ? "" : ", ") + std::string(text);
  }
  throw UsageError("--" + name + " takes one of " + all + ", not '" + given + "'");
}

}  // namespace

void add_input_options(po::options_description& options) {
  auto add = options.add_options();
  add("jobs", word("N"), "work on N logs at once; default: as many as the computer has cores");
  add("date-order", word("dmy|mdy|ymd"),
      "order of day, month and year in CSV dates that can be read in several ways");
  add_part_options(options);
}

void add_analysis_options(po::options_description& options) {
  auto add = options.add_options();
  add("splits", word("LIST"),
      "what to time, e.g. \"0-30 mph, 30-50 mph, 60 ft\"; default: round marks that the starts reach");
  add("units", word("mph|kmh"),
      "units of speeds, and of the splits if --splits is not given; default: those of --splits, else in text "
      "those of your locale, otherwise mph");
  add("clock", word("rollout|movement"),
      "start the clock after the first foot (0.30 m) of travel, or at first movement; default: rollout");
  add("include-gentle", po::bool_switch(), "time gentle starts too");
  add_conditions_option(options);
}

void add_units_option(po::options_description& options) {
  options.add_options()("units", word("mph|kmh"),
                        "miles and mph, or kilometres and km/h; default: in text those of your locale");
}

void add_output_options(po::options_description& options) {
  auto add = options.add_options();
  add("format", word("text|csv|json|jsonl"),
      "how to write; default: as the name of the output ends, .csv, .json or .jsonl, else text");
  add("csv-dialect", word("rfc4180|excel-eu"),
      "CSV with commas, or with semicolons and decimal commas as spreadsheets in many countries expect");
  add("output,o", word("FILE"), "write to FILE, which appears only when complete; - is standard output");
}

void add_places_option(po::options_description& options) {
  options.add_options()("strip-places", po::bool_switch(),
                        "no coordinates, and days instead of times of day; with csv, json or jsonl");
}

void add_telling_options(po::options_description& options) {
  auto add = options.add_options();
  add("explain", po::bool_switch(), "say more: receiver noise, how starts were judged, sd, both clocks");
  add("quiet", po::bool_switch(), "leave out the notes");
}

bool is_on(const po::variables_map& values, const std::string& name) {
  return values.count(name) > 0 && values[name].as<bool>();
}

unsigned parse_jobs(const po::variables_map& values) {
  const std::string text = text_of(values, "jobs");
  if (text.empty()) {
    return std::clamp(std::thread::hardware_concurrency(), 1U, 256U);
  }
  unsigned jobs = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), jobs);
  if (error != std::errc() || end != text.data() + text.size() || jobs < 1 || jobs > 256) {
    throw UsageError("--jobs takes a whole number from 1 to 256, not '" + text + "'");
  }
  return jobs;
}

namespace {

/// True for kilometres, false for miles; nothing for another word.
std::optional<bool> is_metric_word(std::string_view plain) {
  if (plain == "metric") {
    return true;
  }
  if (plain == "us" || plain == "uk" || plain == "imperial") {
    return false;
  }
  for (const Dimension dimension : {Dimension::speed, Dimension::length}) {
    const UnitName* unit = find_unit(plain, dimension);
    if (unit != nullptr && (unit->shown == "km/h" || unit->shown == "km")) {
      return true;
    }
    if (unit != nullptr && (unit->shown == "mph" || unit->shown == "mi")) {
      return false;
    }
  }
  return std::nullopt;
}

}  // namespace

bool parse_metric(const po::variables_map& values, const Streams& streams) {
  if (values.count("units") == 0) {
    return streams.metric && text_of(values, "format", "text") == "text";  // files are the same everywhere
  }
  if (const auto metric = is_metric_word(plain_unit_name(text_of(values, "units")))) {
    return *metric;
  }
  return choice<bool, 2>(values, "units",
                         {{{"mph", false}, {"kmh", true}}});  // which says that it is neither
}

namespace {

bool is_unit(std::string word) {
  word.erase(word.find_last_not_of(",;") + 1);
  const std::string plain = plain_unit_name(word);
  return find_unit(plain, Dimension::speed) != nullptr || find_unit(plain, Dimension::length) != nullptr;
}

/// The list that was meant where a shell made several words of it, `--splits 0-30 mph ride.gpx`, wherever the
/// logs stand; else nothing.
std::string list_without_quotes(const po::variables_map& values) {
  std::string list = text_of(values, "splits");
  bool is_split_up = false;
  if (values.count("path") > 0) {
    bool begun = false;
    for (const auto& word : values["path"].as<std::vector<std::string>>()) {
      const bool unit = is_unit(word);
      const bool figures = word.find_first_not_of("0123456789-,;./") == std::string::npos && word != "-";
      if (begun && !unit && !figures) {
        break;
      }
      begun = begun || unit || figures;
      is_split_up = is_split_up || unit;
      list += begun ? ' ' + word : "";
    }
  }
  return is_split_up ? list : "";
}

std::vector<SplitSpec> splits_of(const po::variables_map& values) {
  try {
    return parse_splits(text_of(values, "splits"));
  } catch (const std::invalid_argument& error) {
    if (const std::string list = list_without_quotes(values); !list.empty()) {
      throw UsageError("--splits: put the list in quotes: --splits \"" + list + "\"");
    }
    throw UsageError("--splits: " + std::string(error.what()));
  }
}

}  // namespace

ReadAs parse_reading(const po::variables_map& values, const Streams& streams) {
  ReadAs read{.options = {}, .part = parse_part(values, streams)};
  if (values.count("date-order") > 0) {
    read.options.date_order = choice<DateOrder, 3>(
        values, "date-order", {{{"dmy", DateOrder::dmy}, {"mdy", DateOrder::mdy}, {"ymd", DateOrder::ymd}}});
  }
  return read;
}

namespace {

/// Whether splits are asked in km/h or in mph; nothing where they are in both, or in neither.
std::optional<bool> is_metric_list(const std::vector<SplitSpec>& splits) {
  const auto any_in = [&](std::string_view unit) {
    return std::any_of(splits.begin(), splits.end(),
                       [&](const SplitSpec& s) { return s.name.ends_with(unit); });
  };
  const bool metric = any_in(" km/h");
  return metric == any_in(" mph") ? std::nullopt : std::optional<bool>(metric);
}

}  // namespace

AnalysisOptions parse_analysis(const po::variables_map& values, const Streams& streams) {
  AnalysisOptions options;
  options.metric = parse_metric(values, streams);
  options.clock =
      choice<Clock, 2>(values, "clock", {{{"rollout", Clock::rollout}, {"movement", Clock::movement}}});
  options.read = parse_reading(values, streams);
  options.picked = parse_picked(values);
  options.conditions = parse_conditions(values);
  options.run.include_gentle = is_on(values, "include-gentle");
  options.run.splits.clear();
  if (values.count("splits") > 0) {
    options.run.splits = splits_of(values);
    if (values.count("units") == 0) {  // one text, one unit of speed
      options.metric = is_metric_list(options.run.splits).value_or(options.metric);
    }
  }
  options.run.metric = options.metric;
  return options;
}

OutputOptions parse_output(const po::variables_map& values, bool page) {
  if (!page && names_page(values)) {
    throw UsageError("this command writes no page, as the name " + text_of(values, "output") +
                     " would have it; 'bothways page' does. Let the name end in .csv, .json, .jsonl or .txt, "
                     "or give --format text");
  }
  OutputOptions options;
  options.format = choice<Format, 4>(
      values, "format",
      {{{"text", Format::text}, {"csv", Format::csv}, {"json", Format::json}, {"jsonl", Format::jsonl}}});
  options.file = text_of(values, "output");
  if (options.file.empty() && values.count("output") > 0) {
    throw UsageError("--output needs the name of a file, or - for standard output");
  }
  if (options.file == "-") {
    options.file.clear();
  }
  options.explain = is_on(values, "explain");
  options.quiet = is_on(values, "quiet");
  options.time_zone = text_of(values, "time-zone");
  options.dialect = choice<CsvDialect, 2>(
      values, "csv-dialect",
      {{{"rfc4180", {}}, {"excel-eu", {.separator = ';', .decimal = ',', .mark = true}}}});
  return options;
}

bool parse_places(const po::variables_map& values, const OutputOptions& output) {
  const bool strip = is_on(values, "strip-places");
  if (strip && output.format == Format::text) {
    throw UsageError("--strip-places goes with --format csv, json or jsonl");
  }
  return !strip;
}

std::vector<std::string> parse_paths(const po::variables_map& values) {
  if (values.count("path") == 0) {
    throw UsageError("name a log, a folder, or - for standard input");
  }
  return values["path"].as<std::vector<std::string>>();
}

}  // namespace bothways::cli
