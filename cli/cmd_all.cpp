#include "bothways/log/read.hpp"
#include "bothways/report/contract.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/rows.hpp"
#include "bothways/report/summary.hpp"
#include "cli/compare_commands.hpp"
#include "cli/file_format.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"
#include "cli/ride_lines.hpp"
#include "cli/say.hpp"
#include "cli/watch.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

po::options_description all_options() {
  po::options_description options;
  add_analysis_options(options);
  add_pick_options(options);
  add_output_options(options);
  options.add_options()("wide", po::bool_switch(),
                        "CSV with one row per run instead of one per run and split");
  add_places_option(options);
  options.add_options()("watch", po::value<std::string>()->value_name("FOLDER"),
                        "wait for logs that are copied into FOLDER, and report on each once it is complete");
  add_telling_options(options);
  add_input_options(options);
  add_lines_option(options);
  return options;
}

namespace {

/// What the command line asks for besides logs.
struct Asked {
  AnalysisOptions analysis;
  OutputOptions output;
  bool places = true;
  bool wide = false;
  unsigned jobs = 1;
};

Asked parse_all(const po::variables_map& values, const Streams& streams) {
  Asked asked{.analysis = parse_analysis(values, streams), .output = parse_output(values)};
  asked.analysis.from_lines = parse_lines(values);
  asked.places = parse_places(values, asked.output);
  asked.wide = is_on(values, "wide");
  if (asked.wide && asked.output.format != Format::csv) {
    throw UsageError("--wide goes with --format csv");
  }
  asked.jobs = parse_jobs(values);
  return asked;
}

void write_all(std::ostream& out, const Result& result, const Asked& asked, const SummaryOptions& summary) {
  switch (asked.output.format) {
    case Format::text:
      if (!result.rides.empty()) {
        write_summary(out, result, summary);
      }
      break;
    case Format::csv:
      write_csv(out, asked.wide ? wide_runs_table(result) : results_table(result, true), true,
                asked.output.dialect);
      break;
    case Format::json:
      write_result_json(out, result);
      break;
    case Format::jsonl:
      write_result_jsonl(out, result);
      break;
  }
}

Exit tell_of(const Inputs& inputs, const Asked& asked, const Streams& streams) {
  Analysis analysis = analyse_all(inputs.files, asked.analysis, asked.jobs, streams);
  analysis.result.places = asked.places;
  const SummaryOptions summary = text_options(asked.output, streams);
  write_output(asked.output, streams,
               [&](std::ostream& out) { write_all(out, analysis.result, asked, summary); });
  return conclude(inputs, analysis, streams);
}

/// Tells of each log that arrives in a folder, until the process is ended.
Exit watch(const std::string& folder, const Asked& asked, const Streams& streams) {
  constexpr int look_up_ms = 500;
  FolderWatch watched(folder);
  say(streams, "bothways", "waiting for logs in " + folder + "; Ctrl-C ends");
  while (!streams.stopped || !streams.stopped()) {
    const auto path = watched.next(look_up_ms);
    if (!path || !looks_like_log(*path)) {
      continue;
    }
    if (asked.output.format == Format::text) {
      streams.out << "== " << escaped(*path) << '\n';
    }
    (void)tell_of({.files = {*path}, .troubles = {}, .unreadable = {}}, asked, streams);
    streams.out << (asked.output.format == Format::text ? "\n" : "") << std::flush;
  }
  return Exit::ok;
}

}  // namespace

Exit run_all(const po::variables_map& values, const Streams& streams) {
  if (names_page(values) && values.count("watch") == 0) {
    return run_page_of_file(values, false, streams);
  }
  if (values.count("watch") > 0 && values.count("output") > 0 && values["output"].as<std::string>() != "-") {
    throw UsageError("--watch writes to standard output; --output would keep the last log only");
  }
  const Asked asked = parse_all(values, streams);
  if (values.count("watch") > 0) {
    if (values.count("path") > 0) {
      throw UsageError("--watch takes its logs from the folder; name no others");
    }
    return watch(values["watch"].as<std::string>(), asked, streams);
  }
  const Inputs inputs = find_inputs(parse_paths(values), asked.output.explain);
  refuse_to_overwrite(asked.output, inputs.files);
  return tell_of(inputs, asked, streams);
}

}  // namespace bothways::cli
