#include "bothways/report/rows.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/parallel.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"

#include <algorithm>
#include <ostream>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

void add_fixes(TableWriter& writer, const Log& log) {
  RowsHead head{.path = log.path, .more = "", .time_decimals = 0};
  for (const Fix& fix : log.fixes) {
    head.time_decimals = std::max(head.time_decimals, decimals_needed(fix.time));
  }
  for (std::size_t first = 0; first < log.fixes.size(); first += part_rows) {
    writer.add(fixes_table(log, first, part_rows), head);
  }
}

}  // namespace

po::options_description fixes_options() {
  po::options_description options;
  add_output_options(options);
  add_input_options(options);
  return options;
}

Exit run_fixes(const po::variables_map& values, const Streams& streams) {
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const ReadAs read_as = parse_reading(values, streams);
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  std::vector<Attempt<Log>> logs(inputs.files.size());
  Troubles troubles;
  std::size_t read_logs = 0;
  write_output(output, streams, [&](std::ostream& out) {
    TableWriter writer(out, output, streams, fixes_table({}));
    for_each_log_in_order(
        logs.size(), jobs, streams,
        [&](std::size_t i) { logs[i] = read_input(inputs.files[i], read_as, streams); },
        [&](std::size_t i) {
          Attempt<Log> read = std::exchange(logs[i], {});
          if (read.made) {
            ++read_logs;
            add_fixes(writer, *read.made);
          } else {
            troubles.take(std::move(read));
          }
        });
    writer.finish();
  });
  return conclude_reading(inputs, troubles, read_logs, streams);
}

}  // namespace bothways::cli
