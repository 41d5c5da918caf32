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
  add_output_options(options);
  options.add_options()("wide", po::bool_switch(),
                        "one row per run instead of one per run and split; not with text");
  add_telling_options(options);
  add_input_options(options);
  return options;
}

Exit run_runs(const po::variables_map& values, const Streams& streams) {
  const AnalysisOptions analysis_options = parse_analysis(values, streams);
  const OutputOptions output = parse_output(values);
  if (is_on(values, "wide") && output.format == Format::text) {
    throw UsageError("--wide goes with --format csv, json or jsonl");
  }
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.explain);
  refuse_to_overwrite(output, inputs.files);
  const Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  const SummaryOptions summary = text_options(output, streams);
  write_output(output, streams, [&](std::ostream& out) {
    if (output.format != Format::text) {
      const bool wide = is_on(values, "wide");
      write_table(out, wide ? wide_runs_table(analysis.result) : runs_table(analysis.result), output.format,
                  to_string(analysis.result.clock));
    } else if (!analysis.result.rides.empty()) {
      write_runs_summary(out, analysis.result, summary);
    }
  });
  return conclude(inputs, analysis, streams);
}

}  // namespace bothways::cli
