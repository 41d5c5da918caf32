#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/report/compared.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/words.hpp"
#include "cli/compare_commands.hpp"
#include "cli/comparing.hpp"
#include "cli/file_format.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/ride_lines.hpp"
#include "cli/say.hpp"
#include "cli/sides.hpp"

#include <algorithm>
#include <ostream>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

/// The split that decides, and the options with it among the splits; it is timed even where none are asked.
CompareOptions parse_compare(const po::variables_map& values, AnalysisOptions& analysis) {
  CompareOptions options{.clock = analysis.clock};
  if (values.count("main") == 0) {
    return options;
  }
  const std::string asked = values["main"].as<std::string>();
  std::vector<SplitSpec> named;
  try {
    named = parse_splits(asked);
  } catch (const std::invalid_argument& error) {
    throw UsageError("--main: " + std::string(error.what()));
  }
  const auto& splits = analysis.run.splits;
  const bool known = splits.empty() || std::any_of(splits.begin(), splits.end(), [&](const SplitSpec& split) {
                       return split.name == named.front().name;
                     });
  if (named.size() != 1 || !known) {
    throw UsageError("--main takes one of the splits that are timed, not '" + asked + "'; see --splits");
  }
  analysis.also = named;
  options.main_split = named.front().name;
  return options;
}

/// A name for the column of a table.
std::string short_name(const std::string& setup) {
  constexpr std::size_t longest = 20;  // as names of --side
  std::string name = setup;
  if (display_width(escaped(name)) <= longest) {
    return name;
  }
  while (display_width(escaped(name)) >= longest) {
    name.pop_back();
    while (!name.empty() && (static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U) {
      name.pop_back();
    }
  }
  return name + "…";
}

/// Sides by the set-ups that the conditions name.
std::vector<std::string> names_of(const std::vector<std::string>& setups) {
  std::vector<std::string> names;
  for (const std::string& setup : setups) {
    std::string name = short_name(setup);
    for (int again = 2; std::find(names.begin(), names.end(), name) != names.end(); ++again) {
      name = "set-up " + std::to_string(names.size() + 1) + (again > 2 ? "'" : "");
    }
    names.push_back(name);
  }
  return names;
}

/// Adds the rides of one side, its runs numbered from 1.
void add_side(const std::string& name, std::size_t index, const AnalysisOptions& options, Analysed& analysed,
              Compared& compared) {
  Side side{.name = name};
  for (std::size_t i = 0; i < analysed.rides.size(); ++i) {
    if (analysed.sides[i] == index) {
      side.rides.push_back(std::move(analysed.rides[i]));
    }
  }
  number_and_pick(side.rides, options.picked, name);
  Averaged averaged = average_runs(side.rides, compared.splits, {.metric = options.metric});
  side.pairs = std::move(averaged.pairs);
  compared.sides.push_back(std::move(side));
  compared.overall.push_back(std::move(averaged.overall));
}

/// What of the rides is on no side, in a sentence; empty if nothing.
std::string no_side_words(const Analysed& analysed) {
  std::size_t runs = 0;
  for (std::size_t i = 0; i < analysed.rides.size(); ++i) {
    runs += analysed.sides[i] == no_side ? analysed.rides[i].runs.accepted.size() : 0;
  }
  return runs == 0 ? ""
                   : count_of(runs, "run is", "runs are") +
                         " on no side, since the conditions do not name the set-up";
}

/// Why the set-ups of the conditions make no comparison; empty if they do.
std::string no_setups_words(const std::vector<std::string>& setups) {
  if (setups.size() > 1) {
    return "";
  }
  const std::string have = setups.empty() ? "no set-up is named in a conditions.ini beside the logs"
                                          : "the conditions name one set-up, " + setups.front();
  return have +
         "; write for each part of the ride when it was and which it had, [10:30-11:10] and below it "
         "setup = ..., or give two logs or folders, before and after the change";
}

void write(std::ostream& out, const Compared& compared, const OutputOptions& output,
           const SummaryOptions& summary) {
  switch (output.format) {
    case Format::text:
      write_compared(out, compared, summary);
      break;
    case Format::csv:
      write_csv(out, compared_table(compared), true, output.dialect);
      break;
    case Format::json:
      write_compared_json(out, compared);
      break;
    case Format::jsonl:
      write_compared_jsonl(out, compared);
      break;
  }
}

/// Sides asked for, or found in the conditions.
Comparing compared_sides(const std::vector<std::string>& names, Analysed analysed,
                         const AnalysisOptions& options) {
  Comparing comparing;
  comparing.read = analysed.read;
  comparing.left_over = no_side_words(analysed);
  comparing.compared = {.splits = analysed.splits, .marks_chosen = analysed.marks_chosen};
  require_sides(options.picked, names);
  for (std::size_t i = 0; i < names.size(); ++i) {
    add_side(names[i], i, options, analysed, comparing.compared);
  }
  comparing.troubles = std::move(analysed.troubles);
  return comparing;
}

Comparing by_setup(const po::variables_map& values, const AnalysisOptions& analysis,
                   const OutputOptions& output, const Streams& streams) {
  const Inputs inputs = find_inputs(parse_paths(values), output.explain);
  refuse_to_overwrite(output, inputs.files);
  Analysed analysed =
      analyse_logs(whole_logs(inputs.files), analysis, parse_jobs(values), streams, SidesBy::setup);
  std::string why = analysed.rides.empty() ? "" : no_setups_words(analysed.setups);
  const std::vector<std::string> names = names_of(analysed.setups);
  Comparing comparing = compared_sides(names, std::move(analysed), analysis);
  comparing.inputs = inputs;
  comparing.no_sides = std::move(why);
  return comparing;
}

/// Of lines the part was said where the logs were timed, and so were the splits.
void require_whole(const std::vector<LogAsked>& files) {
  for (const LogAsked& asked : files) {
    if (!asked.window.open()) {
      throw UsageError("a part of a log goes with logs; with --from-jsonl name whole files, not a part of '" +
                       asked.path + "'");
    }
  }
}

void require_timed(const std::string& main_split, const Compared& compared) {
  if (!main_split.empty() && !compared.splits.empty() &&
      std::none_of(compared.splits.begin(), compared.splits.end(),
                   [&](const SplitSpec& split) { return split.name == main_split; })) {
    throw UsageError("--main takes one of the splits that the rides were timed for, not '" + main_split +
                     "'");
  }
}

Comparing by_path(const std::vector<SideAsked>& asked, const po::variables_map& values,
                  const AnalysisOptions& analysis, const OutputOptions& output, const Streams& streams) {
  SideInputs found = find_side_inputs(asked, output.explain);
  if (analysis.from_lines) {
    require_whole(found.logs);
  }
  refuse_to_overwrite(output, found.inputs.files);
  Analysed analysed = analyse_logs(found.logs, analysis, parse_jobs(values), streams);
  refuse_shared_parts(asked, analysed);
  std::vector<std::string> names;
  names.reserve(asked.size());
  for (const SideAsked& side : asked) {
    names.push_back(side.name);
  }
  Comparing comparing = compared_sides(names, std::move(analysed), analysis);
  comparing.inputs = std::move(found.inputs);
  return comparing;
}

}  // namespace

Comparing compare_sides(const po::variables_map& values, AnalysisOptions analysis,
                        const OutputOptions& output, const Streams& streams, More more) {
  CompareOptions options = parse_compare(values, analysis);
  options.more = more;
  (void)parse_jobs(values);
  const std::vector<SideAsked> asked = parse_sides(values);
  Comparing comparing = asked.empty() ? by_setup(values, analysis, output, streams)
                                      : by_path(asked, values, analysis, output, streams);
  comparing.compared.clock = analysis.clock;
  comparing.compared.metric = analysis.metric;
  if (analysis.from_lines) {
    require_timed(options.main_split, comparing.compared);
  }
  if (comparing.compared.sides.size() > 1) {
    comparing.compared.comparisons = compare(comparing.compared.sides, comparing.compared.splits, options);
  }
  if (!comparing.left_over.empty() && !comparing.compared.comparisons.empty()) {
    comparing.compared.comparisons.front().warnings.push_back({"no-set-up", comparing.left_over, 0});
  }
  return comparing;
}

Exit conclude_comparison(const Comparing& comparing, const Streams& streams) {
  const Exit reading = conclude_reading(comparing.inputs, comparing.troubles, comparing.read, streams);
  if (has_differences(comparing.compared)) {
    return reading;
  }
  std::vector<std::string> sentences = why_not_compared(comparing.compared);
  if (!comparing.no_sides.empty()) {
    sentences = {comparing.no_sides};
  }
  for (const std::string& sentence : sentences) {
    say(streams, "bothways", "nothing to compare: " + sentence);
  }
  return reading == Exit::ok ? Exit::nothing_found : reading;
}

po::options_description compare_options() {
  po::options_description options;
  add_side_options(options);
  add_analysis_options(options);
  add_pick_options(options);
  add_output_options(options);
  add_places_option(options);
  add_telling_options(options);
  add_input_options(options);
  add_lines_option(options);
  return options;
}

Exit run_compare(const po::variables_map& values, const Streams& streams) {
  if (names_page(values)) {
    return run_page_of_file(values, true, streams);
  }
  const OutputOptions output = parse_output(values);
  const bool places = parse_places(values, output);
  AnalysisOptions analysis = parse_analysis(values, streams);
  analysis.from_lines = parse_lines(values);
  Comparing comparing = compare_sides(values, std::move(analysis), output, streams);
  comparing.compared.places = places;
  write_output(output, streams, [&](std::ostream& out) {
    if (comparing.compared.sides.size() > 1 || output.format != Format::text) {
      write(out, comparing.compared, output, text_options(output, streams));
    }
  });
  return conclude_comparison(comparing, streams);
}

}  // namespace bothways::cli
