#include "cli/options.hpp"

#include "bothways/core/unit_names.hpp"
#include "cli/command.hpp"
#include "cli/conditions.hpp"

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
  options.add_options()("jobs", word("N"),
                        "work on N logs at once; default: as many as the computer has cores");
}

void add_analysis_options(po::options_description& options) {
  auto add = options.add_options();
  add("splits", word("LIST"),
      "what to time, e.g. \"0-30 mph, 30-50 mph, 60 ft\"; default: marks that the starts reach");
  add("units", word("mph|kmh"),
      "units of speeds and of the splits where none are asked; default: those of the locale in text, else "
      "mph");
  add("clock", word("rollout|movement"),
      "start the clock after the first foot (0.30 m) of travel, or at first movement; default: rollout");
  add("include-gentle", po::bool_switch(), "time gentle starts too");
  add_conditions_option(options);
}

void add_units_option(po::options_description& options) {
  options.add_options()("units", word("mph|kmh"),
                        "miles and mph, or kilometres and km/h; default: those of the locale in text");
}

void add_output_options(po::options_description& options) {
  auto add = options.add_options();
  add("format", word("text|csv|json|jsonl"), "how to write; default: text");
  add("output,o", word("FILE"), "write to FILE, which appears only when complete; - is standard output");
}

void add_telling_options(po::options_description& options) {
  auto add = options.add_options();
  add("explain", po::bool_switch(), "tell more: receiver noise, how starts were judged, sd, both clocks");
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

bool parse_metric(const po::variables_map& values, const Streams& streams) {
  constexpr std::array<std::pair<const char*, bool>, 6> other_words{
      {{"km/h", true}, {"kph", true}, {"metric", true}, {"us", false}, {"uk", false}, {"imperial", false}}};
  if (values.count("units") == 0) {
    return streams.metric && text_of(values, "format", "text") == "text";  // files are the same everywhere
  }
  const std::string given = text_of(values, "units");
  const auto* found = std::find_if(other_words.begin(), other_words.end(),
                                   [&](const auto& word) { return given == word.first; });
  if (found != other_words.end()) {
    return found->second;
  }
  return choice<bool, 2>(values, "units", {{{"mph", false}, {"kmh", true}}});
}

namespace {

bool is_unit(std::string word) {
  word.erase(word.find_last_not_of(",;") + 1);
  const std::string plain = plain_unit_name(word);
  return find_unit(plain, Dimension::speed) != nullptr || find_unit(plain, Dimension::length) != nullptr;
}

/// The list that was meant where a shell made several words of it, `--splits 0-30 mph ride.gpx`; else
/// nothing.
std::string list_without_quotes(const po::variables_map& values) {
  std::string list = text_of(values, "splits");
  bool is_split_up = false;
  if (values.count("path") > 0) {
    for (const auto& word : values["path"].as<std::vector<std::string>>()) {
      const bool unit = is_unit(word);
      if (!unit && word.find_first_not_of("0123456789-,;./") != std::string::npos) {
        break;
      }
      is_split_up = is_split_up || unit;
      list += ' ' + word;
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

AnalysisOptions parse_analysis(const po::variables_map& values, const Streams& streams) {
  AnalysisOptions options;
  options.metric = parse_metric(values, streams);
  options.clock =
      choice<Clock, 2>(values, "clock", {{{"rollout", Clock::rollout}, {"movement", Clock::movement}}});
  options.conditions = parse_conditions(values);
  options.run.include_gentle = is_on(values, "include-gentle");
  options.run.splits.clear();
  if (values.count("splits") > 0) {
    options.run.splits = splits_of(values);
  }
  return options;
}

OutputOptions parse_output(const po::variables_map& values) {
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
  return options;
}

std::vector<std::string> parse_paths(const po::variables_map& values) {
  if (values.count("path") == 0) {
    throw UsageError("name a log, a folder, or - for standard input");
  }
  return values["path"].as<std::vector<std::string>>();
}

}  // namespace bothways::cli
