// Times the runs of one log: read, derive the speed, find the runs, print each split with its interval.
//
//   example_one_log ride.gpx
#include <bothways/bothways.hpp>

#include <cstdio>
#include <exception>

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "example_one_log LOG\n");
    return 2;
  }
  try {
    const bothways::Log log = bothways::read_log(argv[1]);
    const bothways::SpeedSeries speed = bothways::speed_series(log);
    const auto splits = bothways::parse_splits("0-20 mph, 0-30 mph, 60 ft");
    const bothways::Runs runs = bothways::find_runs(speed, {.splits = splits});
    for (const bothways::Run& run : runs.accepted) {
      for (const bothways::Split& split : run.splits) {
        const bothways::Estimate& time = split.rollout;  // after the first foot
        std::printf("%s %s: %.2f s (%.2f to %.2f)\n", bothways::direction_words(run.heading_deg).c_str(),
                    split.spec.name.c_str(), time.value, time.lo95, time.hi95);
      }
    }
    for (const bothways::Rejected& start : runs.rejected) {
      std::printf("no run: %s\n", start.text.c_str());
    }
    return runs.accepted.empty() ? 3 : 0;
  } catch (const bothways::LogError& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
