#include "bothways/report/contract.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/ride_lines.hpp"
#include "bothways/report/rows.hpp"
#include "bothways/report/summary.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

po::options_description runs_options() {
  po::options_description options;
  add_analysis_options(options);
  add_pick_options(options);
  add_output_options(options);
  options.add_options()("wide", po::bool_switch(),
                        "CSV with one row per run instead of one per run and split");
  options.add_options()("rides", po::bool_switch(),
                        "one line a log, or part of one, with all that --from-jsonl of other commands needs; "
                        "with --format jsonl and --splits");
  add_places_option(options);
  add_telling_options(options);
  add_input_options(options);
  return options;
}

namespace {

/// Each log by itself, whatever else is read: pairing comes where all lines are together.
Exit write_rides(const Inputs& inputs, const AnalysisOptions& analysis, const OutputOptions& output,
                 unsigned jobs, const Streams& streams) {
  const Analysed analysed = analyse_logs(whole_logs(inputs.files), analysis, jobs, streams);
  write_output(output, streams, [&](std::ostream& out) {
    for (const Ride& ride : analysed.rides) {
      write_ride_line(out, {ride, analysed.splits});
    }
  });
  return conclude_reading(inputs, analysed.troubles, analysed.read, streams);
}

void refuse_rides(const AnalysisOptions& analysis, const OutputOptions& output, bool wide, bool places) {
  if (output.format != Format::jsonl || wide || !places) {
    throw UsageError("--rides goes with --format jsonl, and neither with --wide nor --strip-places");
  }
  if (analysis.run.splits.empty()) {
    throw UsageError("--rides needs --splits: without it the marks follow from what all logs together reach");
  }
}

}  // namespace

Exit run_runs(const po::variables_map& values, const Streams& streams) {
  const AnalysisOptions analysis_options = parse_analysis(values, streams);
  const OutputOptions output = parse_output(values);
  const bool places = parse_places(values, output);
  if (is_on(values, "wide") && output.format != Format::csv) {
    throw UsageError("--wide goes with --format csv");
  }
  const bool rides = is_on(values, "rides");
  if (rides) {
    refuse_rides(analysis_options, output, is_on(values, "wide"), places);
  }
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.explain);
  refuse_to_overwrite(output, inputs.files);
  if (rides) {
    return write_rides(inputs, analysis_options, output, jobs, streams);
  }
  Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  analysis.result.places = places;
  const SummaryOptions summary = text_options(output, streams);
  write_output(output, streams, [&](std::ostream& out) {
    if (output.format == Format::csv) {
      const bool wide = is_on(values, "wide");
      write_csv(out, wide ? wide_runs_table(analysis.result) : runs_table(analysis.result), true,
                output.dialect);
    } else if (output.format != Format::text) {
      write_runs_json(out, analysis.result, output.format == Format::jsonl);
    } else if (!analysis.result.rides.empty()) {
      write_runs_summary(out, analysis.result, summary);
    }
  });
  return conclude(inputs, analysis, streams);
}

}  // namespace bothways::cli
