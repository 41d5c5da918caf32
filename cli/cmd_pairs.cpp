#include "bothways/report/rows.hpp"
#include "bothways/report/summary.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"
#include "cli/say.hpp"

#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

po::options_description pairs_options() {
  po::options_description options;
  add_analysis_options(options);
  add_output_options(options);
  add_telling_options(options);
  add_input_options(options);
  return options;
}

Exit run_pairs(const po::variables_map& values, const Streams& streams) {
  const AnalysisOptions analysis_options = parse_analysis(values, streams);
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.explain);
  refuse_to_overwrite(output, inputs.files);
  const Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  const SummaryOptions summary = text_options(output, streams);
  write_output(output, streams, [&](std::ostream& out) {
    if (output.format != Format::text) {
      write_table(
          out,
          output.format == Format::csv ? results_table(analysis.result, false) : pairs_table(analysis.result),
          output.format, to_string(analysis.result.clock));
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
