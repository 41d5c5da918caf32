#include "support/simulate/real_log.hpp"

#include "bothways/core/split_spec.hpp"
#include "bothways/log/read.hpp"
#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "support/simulate/profile.hpp"

#include <cmath>
#include <fstream>
#include <optional>

namespace bothways::sim {

namespace {

constexpr double run_mps = 5.5;
constexpr double apart_s = 3.0;

double first_time_s(const std::filesystem::path& truth) {
  std::ifstream in(truth);
  std::string line;
  std::getline(in, line);
  std::getline(in, line);
  return std::stod(line);
}

const TrueStart* nearest(const Truth& truth, double foot_s) {
  const TrueStart* found = nullptr;
  for (const TrueStart& start : truth.starts) {
    if (std::abs(start.foot_s - foot_s) < (found == nullptr ? apart_s : std::abs(found->foot_s - foot_s))) {
      found = &start;
    }
  }
  return found;
}

}  // namespace

std::vector<RealFigure> real_figures(const std::filesystem::path& folder) {
  const auto truth_path = folder / "truth.csv";
  const Truth truth = truth_of_profile(truth_path, run_mps);
  const double begin_s = first_time_s(truth_path);
  const auto splits = parse_splits("0-20 km/h, 0-30 km/h, 0-40 km/h, 10-30 km/h");
  const auto nmea = folder / "log.nmea";
  const auto log = std::filesystem::exists(nmea) ? nmea : folder / "log.gpx";
  std::vector<RealFigure> out;
  for (const Run& run :
       find_runs(speed_series(read_log(log.string())), {.splits = splits, .include_gentle = true}).accepted) {
    const double foot_s = static_cast<double>(run.clock_start.unix_us) * 1e-6 - begin_s;
    const TrueStart* start = nearest(truth, foot_s);
    for (const SplitSpec& spec : splits) {
      for (const Split& split : run.splits) {
        const auto true_s = start != nullptr && spec.name == split.spec.name
                                ? true_split_s(truth, *start, spec, Clock::rollout)
                                : std::nullopt;
        if (true_s) {
          out.push_back({split.spec.name, foot_s, split.rollout, *true_s});
        }
      }
    }
  }
  return out;
}

}  // namespace bothways::sim
