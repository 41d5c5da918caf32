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

constexpr std::size_t part_rows = 4096;  // 2 MB of table at a time

struct Work {
  SpeedSeries series;
  std::string path;
  bool dated = true;
  std::string trouble;
};

Work work_on(const std::string& path, const Streams& streams) {
  Work work;
  try {
    const ReadLog read = read_input(path, streams);
    work.trouble = read.trouble;
    if (read.log) {
      work.series = speed_series(*read.log);
      work.path = read.log->path;
      work.dated = read.log->dated;
    }
  } catch (const std::exception& error) {
    work.trouble = path + ": " + error.what();
  }
  return work;
}

void add_series(TableWriter& writer, const Work& work) {
  RowsHead head{.path = work.path, .more = source_words(work.series.source), .time_decimals = 0};
  for (const Stretch& stretch : work.series.stretches) {
    for (const double t_s : stretch.t_s) {
      head.time_decimals = std::max(head.time_decimals, decimals_needed(shifted(stretch.start, t_s)));
    }
  }
  std::size_t number = 0;
  for (const Stretch& stretch : work.series.stretches) {
    ++number;
    for (std::size_t first = 0; first < stretch.t_s.size(); first += part_rows) {
      writer.add(stretch_table(stretch, number, work.series.source, work.path, work.dated, first, part_rows),
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
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  std::vector<Work> works(inputs.files.size());
  std::vector<std::string> troubles;
  write_output(output, streams, [&](std::ostream& out) {
    TableWriter writer(out, output, stretch_table({}, 0, SpeedSource::reported, "", true));
    for_each_log_in_order(
        works.size(), jobs, streams, [&](std::size_t i) { works[i] = work_on(inputs.files[i], streams); },
        [&](std::size_t i) {
          const Work work = std::exchange(works[i], {});
          add_series(writer, work);
          if (!work.trouble.empty()) {
            troubles.push_back(work.trouble);
          }
        });
    writer.finish();
  });
  return conclude_reading(inputs, troubles, works.size() - troubles.size(), streams);
}

}  // namespace bothways::cli
