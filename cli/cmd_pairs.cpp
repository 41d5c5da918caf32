#include "bothways/report/contract.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/rows.hpp"
#include "bothways/report/summary.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"
#include "cli/ride_lines.hpp"
#include "cli/say.hpp"

#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

po::options_description pairs_options() {
  po::options_description options;
  add_analysis_options(options);
  add_pick_options(options);
  add_output_options(options);
  add_telling_options(options);
  add_input_options(options);
  add_lines_option(options);
  return options;
}

Exit run_pairs(const po::variables_map& values, const Streams& streams) {
  AnalysisOptions analysis_options = parse_analysis(values, streams);
  analysis_options.from_lines = parse_lines(values);
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.explain);
  refuse_to_overwrite(output, inputs.files);
  const Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  const SummaryOptions summary = text_options(output, streams);
  write_output(output, streams, [&](std::ostream& out) {
    if (output.format == Format::csv) {
      write_csv(out, results_table(analysis.result, false), true, output.dialect);
    } else if (output.format != Format::text) {
      write_pairs_json(out, analysis.result, output.format == Format::jsonl);
    } else if (!analysis.result.rides.empty()) {
      write_pairs_summary(out, analysis.result, summary);
    }
  });
  const Exit reading = conclude(inputs, analysis, streams);
  if (!analysis.result.pairs.made.empty() || count_runs(analysis.result.rides) == 0) {
    return reading;
  }
  say(streams, "bothways",
      "no pair of runs out and back, so there is no two-way result; ride both ways over the same stretch");
  return reading == Exit::ok ? Exit::nothing_found : reading;
}

}  // namespace bothways::cli
