#include "bothways/report/rows.hpp"
#include "bothways/report/words.hpp"
#include "bothways/speed/derive.hpp"
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

struct Speeds {
  SpeedSeries series;
  std::string path;
  bool dated = true;
};

Speeds speeds_of(const Log& log) {
  return {speed_series(log), log.path, log.dated};
}

void add_series(TableWriter& writer, const Speeds& speeds) {
  RowsHead head{.path = speeds.path, .more = source_words(speeds.series.source), .time_decimals = 0};
  for (const Stretch& stretch : speeds.series.stretches) {
    for (const double t_s : stretch.t_s) {
      head.time_decimals = std::max(head.time_decimals, decimals_needed(shifted(stretch.start, t_s)));
    }
  }
  std::size_t number = 0;
  for (const Stretch& stretch : speeds.series.stretches) {
    ++number;
    for (std::size_t first = 0; first < stretch.t_s.size(); first += part_rows) {
      writer.add(
          stretch_table(stretch, number, speeds.series.source, speeds.path, speeds.dated, first, part_rows),
          head);
    }
  }
}

}  // namespace

po::options_description speed_options() {
  return fixes_options();
}

Exit run_speed(const po::variables_map& values, const Streams& streams) {
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const ReadAs read_as = parse_reading(values, streams);
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  std::vector<Attempt<Speeds>> attempts(inputs.files.size());
  Troubles troubles;
  std::size_t read_logs = 0;
  write_output(output, streams, [&](std::ostream& out) {
    TableWriter writer(out, output, streams, stretch_table({}, 0, SpeedSource::reported, "", true));
    for_each_log_in_order(
        attempts.size(), jobs, streams,
        [&](std::size_t i) { attempts[i] = attempt(inputs.files[i], read_as, streams, speeds_of); },
        [&](std::size_t i) {
          Attempt<Speeds> speeds = std::exchange(attempts[i], {});
          if (speeds.made) {
            ++read_logs;
            add_series(writer, *speeds.made);
          } else {
            troubles.take(std::move(speeds));
          }
        });
    writer.finish();
  });
  return conclude_reading(inputs, troubles, read_logs, streams);
}

}  // namespace bothways::cli
