// Compares two set-ups, one log each: pairs the runs out and back, and says what the change did.
//
//   example_before_after before.gpx after.gpx
#include <bothways/bothways.hpp>

#include <cstdio>
#include <string>
#include <vector>

namespace {

bothways::Side ridden(const std::string& name, const char* path,
                      const std::vector<bothways::SplitSpec>& splits) {
  bothways::Side side{.name = name};
  side.rides.push_back(bothways::analyse(bothways::read_log(path), {.splits = splits}));
  int id = 0;
  for (bothways::Run& run : side.rides.front().runs.accepted) {
    run.id = ++id;
  }
  side.pairs = bothways::pair_runs(side.rides);
  return side;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fprintf(stderr, "example_before_after BEFORE AFTER\n");
    return 2;
  }
  try {
    const auto splits = bothways::parse_splits("0-30 mph, 30-50 mph");
    const std::vector<bothways::Side> sides{ridden("before", argv[1], splits),
                                            ridden("after", argv[2], splits)};
    for (const bothways::Comparison& comparison : bothways::compare(sides, splits)) {
      for (const bothways::Difference& difference : comparison.differences) {
        std::printf("%s\n", difference.text.c_str());
      }
      for (const bothways::Note& warning : comparison.warnings) {
        std::printf("take care: %s\n", warning.text.c_str());
      }
    }
    return 0;
  } catch (const bothways::LogError& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
