#include "bothways/report/contract.hpp"
#include "bothways/report/csv.hpp"
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

po::options_description all_options() {
  po::options_description options;
  add_analysis_options(options);
  add_output_options(options);
  options.add_options()("wide", po::bool_switch(),
                        "CSV with one row per run instead of one per run and split");
  add_telling_options(options);
  add_input_options(options);
  return options;
}

Exit run_all(const po::variables_map& values, const Streams& streams) {
  const AnalysisOptions analysis_options = parse_analysis(values, streams);
  const OutputOptions output = parse_output(values);
  if (is_on(values, "wide") && output.format != Format::csv) {
    throw UsageError("--wide goes with --format csv");
  }
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.explain);
  refuse_to_overwrite(output, inputs.files);
  const Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  const Result& result = analysis.result;
  const SummaryOptions summary = text_options(output, streams);
  write_output(output, streams, [&](std::ostream& out) {
    switch (output.format) {
      case Format::text:
        if (!result.rides.empty()) {
          write_summary(out, result, summary);
        }
        break;
      case Format::csv:
        write_csv(out, is_on(values, "wide") ? wide_runs_table(result) : results_table(result, true));
        break;
      case Format::json:
        write_result_json(out, result);
        break;
      case Format::jsonl:
        write_result_jsonl(out, result);
        break;
    }
  });
  return conclude(inputs, analysis, streams);
}

}  // namespace bothways::cli
