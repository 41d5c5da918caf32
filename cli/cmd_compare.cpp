#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/report/compared.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/run/same_ride.hpp"
#include "cli/compare_commands.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
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

/// All files of all sides, and what was wrong with any path.
Inputs joined(const std::vector<Inputs>& sides) {
  Inputs all;
  for (const Inputs& side : sides) {
    all.files.insert(all.files.end(), side.files.begin(), side.files.end());
    all.troubles.insert(all.troubles.end(), side.troubles.begin(), side.troubles.end());
    all.unreadable.insert(all.unreadable.end(), side.unreadable.begin(), side.unreadable.end());
  }
  return all;
}

/// The rides of one side, its runs numbered from 1.
Side side_of(const std::string& name, const Inputs& inputs, std::vector<Ride>& rides) {
  Side side{.name = name};
  for (Ride& ride : rides) {
    if (std::find(inputs.files.begin(), inputs.files.end(), ride.path) != inputs.files.end()) {
      side.rides.push_back(std::move(ride));
    }
  }
  sort_by_time(side.rides);
  leave_out_same_rides(side.rides);
  int id = 0;
  for (Ride& ride : side.rides) {
    for (Run& run : ride.runs.accepted) {
      run.id = ++id;
    }
  }
  side.pairs = pair_runs(side.rides);
  return side;
}

void write(std::ostream& out, const Compared& compared, const OutputOptions& output,
           const SummaryOptions& summary) {
  switch (output.format) {
    case Format::text:
      write_compared(out, compared, summary);
      break;
    case Format::csv:
      write_csv(out, compared_table(compared));
      break;
    case Format::json:
      write_compared_json(out, compared);
      break;
    case Format::jsonl:
      write_compared_jsonl(out, compared);
      break;
  }
}

Exit conclude_comparison(const Inputs& inputs, const std::vector<std::string>& troubles,
                         const Compared& compared, std::size_t read, const Streams& streams) {
  const Exit reading = conclude_reading(inputs, troubles, read, streams);
  if (has_differences(compared)) {
    return reading;
  }
  for (const std::string& sentence : why_not_compared(compared)) {
    say(streams, "bothways", "nothing to compare: " + sentence);
  }
  return reading == Exit::ok ? Exit::nothing_found : reading;
}

}  // namespace

po::options_description compare_options() {
  po::options_description options;
  add_side_options(options);
  add_analysis_options(options);
  add_output_options(options);
  add_telling_options(options);
  add_input_options(options);
  return options;
}

Exit run_compare(const po::variables_map& values, const Streams& streams) {
  AnalysisOptions analysis = parse_analysis(values, streams);
  const CompareOptions options = parse_compare(values, analysis);
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const std::vector<SideAsked> asked = parse_sides(values);
  const std::vector<Inputs> found = find_side_inputs(asked, output.explain);
  const Inputs inputs = joined(found);
  refuse_to_overwrite(output, inputs.files);
  std::vector<std::size_t> side_of_file;
  for (std::size_t i = 0; i < found.size(); ++i) {
    side_of_file.insert(side_of_file.end(), found[i].files.size(), i);
  }
  Analysed analysed = analyse_logs(inputs.files, analysis, jobs, streams, side_of_file);
  const std::size_t read = analysed.rides.size();
  Compared compared{.clock = analysis.clock,
                    .metric = analysis.metric,
                    .splits = analysed.splits,
                    .marks_chosen = analysed.marks_chosen};
  for (std::size_t i = 0; i < asked.size(); ++i) {
    compared.sides.push_back(side_of(asked[i].name, found[i], analysed.rides));
  }
  compared.comparisons = compare(compared.sides, compared.splits, options);
  write_output(output, streams,
               [&](std::ostream& out) { write(out, compared, output, text_options(output, streams)); });
  return conclude_comparison(inputs, analysed.troubles, compared, read, streams);
}

}  // namespace bothways::cli
