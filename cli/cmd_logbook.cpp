#include "bothways/report/logbook.hpp"
#include "bothways/report/page/page.hpp"
#include "cli/compare_commands.hpp"
#include "cli/file_format.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/page/page_parts.hpp"
#include "cli/pipeline.hpp"
#include "cli/ride_cache.hpp"
#include "cli/ride_lines.hpp"
#include "cli/say.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

struct LogbookOutput {
  OutputOptions output;
  bool page = false;
};

LogbookOutput parse_logbook_output(const po::variables_map& values, const Streams& streams) {
  LogbookOutput output{.output = parse_output(values, true),
                       .page = is_on(values, "page") || names_page(values)};
  if (output.page && values.count("format") > 0 && output.output.format != Format::text) {
    throw UsageError("--page is a format of its own; leave --format out");
  }
  if (output.page && output.output.file.empty() && streams.out_is_terminal) {
    throw UsageError("a page is no text for a terminal; give -o FILE, for example -o logbook.html");
  }
  return output;
}

/// Where what is worked out is remembered; nothing where it is not to be.
std::optional<RideCache> cache_for(const AnalysisOptions& analysis, bool remember, const Streams& streams) {
  if (!remember || streams.cache_path.empty()) {
    return std::nullopt;
  }
  // A log whose dates are read in another order is another log.
  const std::string order = analysis.read.options.date_order
                                ? std::to_string(static_cast<int>(*analysis.read.options.date_order))
                                : std::string();
  return std::optional<RideCache>(std::in_place, streams.cache_path, this_program() + order);
}

struct Read {
  Logbook book;
  Troubles troubles;
  std::size_t read = 0;  ///< number of logs
};

/// As much as is known already is not worked out again; what is new is remembered.
Read logbook_of(const std::vector<std::string>& files, AnalysisOptions analysis, unsigned jobs, bool remember,
                const Streams& streams) {
  std::optional<RideCache> cache = cache_for(analysis, remember, streams);
  if (cache) {
    analysis.store = cache->rides();
  }
  Analysed analysed = analyse_logs(whole_logs(files), analysis, jobs, streams);
  std::optional<LogbookStore> store;
  if (cache) {
    cache->save();  // before the rest, in case that is broken off
    store = cache->logbook(analysed.splits, analysis.clock);
  }
  Read all{.troubles = std::move(analysed.troubles), .read = analysed.read};
  all.book = make_logbook(std::move(analysed.rides), analysed.splits, analysis.clock,
                          store ? &*store : nullptr, jobs);
  if (cache) {
    cache->save();
  }
  return all;
}

void write(std::ostream& out, const Logbook& book, const LogbookOutput& how, const SummaryOptions& summary) {
  if (how.page) {
    write_logbook_page(out, book, require_page_parts(), BOTHWAYS_VERSION);
  } else if (how.output.format == Format::text) {
    write_logbook(out, book, summary);
  } else {
    write_table(out, logbook_table(book), how.output.format, to_string(book.clock), how.output.dialect);
  }
}

}  // namespace

po::options_description logbook_options() {
  po::options_description options;
  add_analysis_options(options);
  add_output_options(options);
  options.add_options()("page", po::bool_switch(), "write an HTML page with a chart of each split over time");
  options.add_options()("no-cache", po::bool_switch(), "work everything out anew, and remember nothing");
  add_telling_options(options);
  add_input_options(options);
  add_lines_option(options);
  return options;
}

Exit run_logbook(const po::variables_map& values, const Streams& streams) {
  AnalysisOptions analysis = parse_analysis(values, streams);
  analysis.from_lines = parse_lines(values);
  const LogbookOutput output = parse_logbook_output(values, streams);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values), output.output.explain);
  refuse_to_overwrite(output.output, inputs.files);
  const auto [book, troubles, read] =
      logbook_of(inputs.files, analysis, jobs, !is_on(values, "no-cache"), streams);
  if (read > 0) {
    const SummaryOptions summary = text_options(output.output, streams);
    const Logbook& whole = book;
    write_output(output.output, streams, [&](std::ostream& out) { write(out, whole, output, summary); });
  }
  const Exit reading = conclude_reading(inputs, troubles, read, streams);
  const bool has_pairs = std::any_of(book.entries.begin(), book.entries.end(), [](const LogbookEntry& entry) {
    return !entry.side.pairs.made.empty();
  });
  if (has_pairs || reading != Exit::ok) {
    return reading;
  }
  say(streams, "bothways",
      "no pair of runs out and back in these rides, so there is nothing to put side by side");
  return Exit::nothing_found;
}

}  // namespace bothways::cli
