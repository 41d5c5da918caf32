#include "bothways/report/rows.hpp"
#include "bothways/speed/derive.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/parallel.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"

#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

po::options_description speed_options() {
  return fixes_options();
}

Exit run_speed(const po::variables_map& values, const Streams& streams) {
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  std::vector<Table> tables(inputs.files.size());
  std::vector<std::string> trouble_of(inputs.files.size());
  for_each_log(tables.size(), jobs, streams, [&](std::size_t i) {
    try {
      const ReadLog read = read_input(inputs.files[i], streams);
      trouble_of[i] = read.trouble;
      if (read.log) {
        tables[i] = speed_table(speed_series(*read.log), read.log->path, read.log->dated);
      }
    } catch (const std::exception& error) {
      trouble_of[i] = inputs.files[i] + ": " + error.what();
    }
  });
  Table all = speed_table({}, "", true);
  std::vector<std::string> troubles;
  for (std::size_t i = 0; i < tables.size(); ++i) {
    if (!trouble_of[i].empty()) {
      troubles.push_back(trouble_of[i]);
    }
    std::move(tables[i].rows.begin(), tables[i].rows.end(), std::back_inserter(all.rows));
  }
  write_output(output, streams, [&](std::ostream& out) {
    if (troubles.size() < tables.size() || output.format == Format::json) {
      write_table(out, all, output.format);
    }
  });
  return conclude_reading(inputs, troubles, tables.size() - troubles.size(), streams);
}

}  // namespace bothways::cli
