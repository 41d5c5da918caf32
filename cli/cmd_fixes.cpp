#include "bothways/report/rows.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/parallel.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"

#include <ostream>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

po::options_description fixes_options() {
  po::options_description options;
  add_output_options(options);
  add_input_options(options);
  return options;
}

Exit run_fixes(const po::variables_map& values, const Streams& streams) {
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  std::vector<ReadLog> logs(inputs.files.size());
  for_each_log(logs.size(), jobs, streams,
               [&](std::size_t i) { logs[i] = read_input(inputs.files[i], streams); });
  Table all = fixes_table({});
  std::vector<std::string> troubles;
  for (ReadLog& read : logs) {
    if (!read.log) {
      troubles.push_back(read.trouble);
      continue;
    }
    Table table = fixes_table(*std::exchange(read.log, std::nullopt));
    std::move(table.rows.begin(), table.rows.end(), std::back_inserter(all.rows));
  }
  write_output(output, streams, [&](std::ostream& out) {
    if (troubles.size() < logs.size() || output.format == Format::json) {
      write_table(out, all, output.format);
    }
  });
  return conclude_reading(inputs, troubles, logs.size() - troubles.size(), streams);
}

}  // namespace bothways::cli
