#include "bothways/report/page/page.hpp"
#include "cli/compare_commands.hpp"
#include "cli/comparing.hpp"
#include "cli/new_file.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/page/page_parts.hpp"
#include "cli/pipeline.hpp"
#include "cli/say.hpp"
#include "cli/sides.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <ostream>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

bool has_sides(const po::variables_map& values) {
  return values.count("before") + values.count("after") + values.count("side") > 0;
}

/// Where the page and the figure go.
struct PageOutput {
  OutputOptions page;
  OutputOptions figure;  ///< its file empty: none
  bool wants_page = true;
  bool open = false;  ///< beside the log, and shown
};

PageOutput parse_page_output(const po::variables_map& values, const Streams& streams) {
  PageOutput output{.page = parse_output(values, true), .open = is_on(values, "open")};
  if (output.open && (values.count("output") > 0 || values.count("figure") > 0 || has_sides(values))) {
    throw UsageError("--open chooses the name of the page by itself, and takes logs alone");
  }
  if (values.count("figure") > 0) {
    output.figure.file = values["figure"].as<std::string>();
    if (output.figure.file.empty() || output.figure.file == "-") {
      throw UsageError("--figure needs the name of a file");
    }
    if (output.figure.file == output.page.file) {
      throw UsageError("--figure and --output cannot be the same file");
    }
    output.wants_page = values.count("output") > 0;
  }
  if (output.wants_page && !output.open && values.count("output") == 0 && streams.out_is_terminal) {
    throw UsageError("a page is no text for a terminal; give -o FILE, for example -o ride.html");
  }
  return output;
}

/// Splits to choose among on the page are timed with those asked.
AnalysisOptions parse_page_analysis(const po::variables_map& values, const Streams& streams) {
  AnalysisOptions analysis = parse_analysis(values, streams);
  analysis.run.more_splits = splits_to_offer(analysis.run.splits, analysis.metric);
  return analysis;
}

void add_power(const po::variables_map& values, Page& page) {
  for (std::size_t i = 0; i < page.compared.sides.size(); ++i) {
    page.power.push_back(power_of_result(side_result(page.compared, i), values));
  }
}

void write(const PageOutput& output, const Streams& streams, const Page& page) {
  if (!output.figure.file.empty()) {
    write_output(output.figure, streams, [&](std::ostream& out) { write_figure(out, page); });
  }
  if (output.wants_page) {
    const PageParts parts = require_page_parts();
    write_output(output.page, streams, [&](std::ostream& out) { write_page(out, page, parts); });
  }
}

/// Beside the first log, under a name that no file has.
void write_and_open(const Inputs& inputs, const Streams& streams, const Page& page) {
  if (inputs.files.front() == "-") {
    throw UsageError("--open puts the page beside the log; standard input has no place");
  }
  const PageParts parts = require_page_parts();
  const NewFile file(inputs.files.front(), ".html");
  write_output({.file = file.path()}, streams, [&](std::ostream& out) { write_page(out, page, parts); });
  if (!streams.open_file || !streams.open_file(file.path())) {
    say(streams, "bothways", "the page is " + file.path() + "; it could not be shown (xdg-open)");
  }
}

Exit run_of_ride(const po::variables_map& values, const PageOutput& output, Page& page,
                 const Streams& streams) {
  const AnalysisOptions analysis_options = parse_page_analysis(values, streams);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.page.explain);
  refuse_to_overwrite(output.page, inputs.files);
  refuse_to_overwrite(output.figure, inputs.files);
  Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  if (!analysis.result.rides.empty()) {
    page.compared = {.clock = analysis.result.clock,
                     .metric = analysis.result.metric,
                     .splits = analysis.result.splits,
                     .marks_chosen = analysis.result.marks_chosen};
    page.compared.sides.push_back({.rides = analysis.result.rides, .pairs = analysis.result.pairs});
    page.compared.overall.push_back(analysis.result.overall);
    add_power(values, page);
    if (output.open) {
      write_and_open(inputs, streams, page);
    } else {
      write(output, streams, page);
    }
  }
  return conclude(inputs, analysis, streams);
}

Exit run_of_sides(const po::variables_map& values, const PageOutput& output, Page& page,
                  const Streams& streams) {
  const Comparing comparing =
      compare_sides(values, parse_page_analysis(values, streams), output.page, streams, More::told);
  refuse_to_overwrite(output.figure, comparing.inputs.files);
  if (comparing.read > 0 && !comparing.compared.sides.empty()) {
    page.compared = comparing.compared;
    add_power(values, page);
    write(output, streams, page);
  }
  return conclude_comparison(comparing, streams);
}

/// What other commands can write and a page cannot.
void refuse_for_page(const po::variables_map& values) {
  for (const char* option : {"wide", "from-jsonl"}) {
    if (is_on(values, option)) {
      throw UsageError("--" + std::string(option) +
                       " makes no page; let the name of the output not end in .html");
    }
  }
}

Exit run_of(const po::variables_map& values, bool sides, const Streams& streams) {
  const PageOutput output = parse_page_output(values, streams);
  Page page{.with_map = is_on(values, "with-map"), .version = BOTHWAYS_VERSION};
  return sides ? run_of_sides(values, output, page, streams) : run_of_ride(values, output, page, streams);
}

}  // namespace

po::options_description page_options() {
  po::options_description options;
  options.add_options()("output,o", po::value<std::string>()->value_name("FILE"),
                        "write to FILE, which appears only when complete; - is standard output");
  options.add_options()("figure", po::value<std::string>()->value_name("FILE"),
                        "write the chart of speed against time as SVG to FILE; without -o, nothing else");
  options.add_options()("open", po::bool_switch(),
                        "write the page beside the log, under a new name, and show it in a browser");
  add_side_options(options);
  add_analysis_options(options);
  add_pick_options(options);
  add_load_options(options);
  options.add_options()("with-map", po::bool_switch(),
                        "show where the runs went, and at what time of day; else the page tells neither");
  add_input_options(options);
  return options;
}

Exit run_page(const po::variables_map& values, const Streams& streams) {
  if (values.count("main") > 0 && !has_sides(values)) {
    throw UsageError("--main goes with --before and --after, or --side");
  }
  return run_of(values, has_sides(values), streams);
}

Exit run_page_of_file(const po::variables_map& values, bool sides, const Streams& streams) {
  refuse_for_page(values);
  return run_of(values, sides, streams);
}

}  // namespace bothways::cli
