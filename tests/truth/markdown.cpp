#include "truth/markdown.hpp"

#include "support/simulate/real_log.hpp"
#include "truth/print.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <string>

namespace bothways::truth {

namespace {

const char* const intro =
    "# How exact the times are\n\n"
    "Written by `bothways_truth --format markdown`: simulated rides of known truth, at least %zu runs a "
    "row.\n"
    "Times count from the first foot (0.30 m) of travel. Real receivers differ from each other more than "
    "these\n"
    "rows do; what a log itself shows of its receiver enters each interval.\n";

const char* const grid_words =
    "\n## Every kind of vehicle and receiver\n\n"
    "For each split, in seconds: **±**, half of the mean 95 % interval of one run; **holds**, how often the\n"
    "interval held the truth (95 % is right); **half**, what half of the runs came within; **six**, what "
    "half of\n"
    "the results of six runs, three out and three back, came within; **naive**, the rms error of common "
    "practice,\n"
    "clock from the first sample above 0.5 m/s and straight lines between samples. Last, the share of runs "
    "found.\n";

const char* const real_words =
    "\n## Real starts\n\n"
    "Speed measured in cars in town (GNSS and inertial sensors, 5 Hz), read through simulated receivers: "
    "every\n"
    "start from rest that reaches 20 km/h, gentle ones too. Each place has few starts, seen again and again "
    "at other\n"
    "phases of the receiver: a single odd start moves a figure by several per cent. Columns as above.\n";

const char* const real_log_words =
    "\n## Real logs beside a reference\n\n"
    "A car in a city of high houses, its speed known from an inertial reference to 0.02 m/s: all times 0-20, "
    "0-30,\n"
    "0-40 and 10-30 km/h of starts from rest. Between high houses single readings are off by 2 m/s and "
    "nothing in the\n"
    "log betrays it: there the intervals fail more often than they say.\n\n"
    "| log | times | held | ± | half |\n|---|---|---|---|---|\n";

Summary of(const CellResult& cell, const std::string& split, const std::string& clock) {
  const auto row = std::find_if(cell.rows.begin(), cell.rows.end(), [&](const CellResult::Row& r) {
    return r.split == split && r.clock == clock;
  });
  return row == cell.rows.end() ? Summary{} : summary(row->found);
}

/// Splits of a cell that its table shows.
std::vector<std::string> shown(const CellResult& cell) {
  std::vector<std::string> out;
  for (const auto& row : cell.rows) {
    if (row.clock == "rollout" && row.split != "60 ft") {
      out.push_back(row.split);
    }
  }
  return out;
}

bool has_together(const CellResult& cell) {
  return std::any_of(cell.rows.begin(), cell.rows.end(),
                     [](const CellResult::Row& row) { return row.clock == "together"; });
}

void print_head_of(const CellResult& cell) {
  const char* six = has_together(cell) ? " six |" : "";
  const char* line = has_together(cell) ? "---|" : "";
  std::string second = "|---|";
  std::printf("\n| vehicle and receiver |");
  for (const std::string& split : shown(cell)) {
    std::printf(" %s: ± | holds | half |%s naive |", split.c_str(), six);
    second += "---|---|---|---|" + std::string(line);
  }
  std::printf(" found |\n%s---|\n", second.c_str());
}

void print_seconds(const Summary& s, double value_s) {
  if (s.n == 0) {
    std::printf(" - |");
  } else {
    std::printf(" %.3f |", value_s);
  }
}

void print_row(const CellResult& cell) {
  std::printf("| %s |", cell.words.c_str());
  for (const auto& row : cell.rows) {
    if (row.clock != "rollout" || row.split == "60 ft") {
      continue;
    }
    const Summary one = summary(row.found);
    print_seconds(one, 0.5 * one.width_s);
    if (one.n == 0) {
      std::printf(" - |");
    } else {
      std::printf(" %.0f %% |", 100.0 * one.coverage);
    }
    print_seconds(one, one.median_s);
    if (has_together(cell)) {
      const Summary six = of(cell, row.split, "together");
      print_seconds(six, six.median_s);
    }
    std::printf(" %.2f |", summary(row.naive).rms_s);
  }
  std::printf(" %.1f %% |\n", percent(cell.found_runs, cell.true_runs));
}

/// What a rider may expect of a receiver, in a sentence.
void print_sentence(const std::vector<CellResult>& cells, const char* name, const char* with) {
  const auto cell =
      std::find_if(cells.begin(), cells.end(), [&](const CellResult& c) { return c.cell == name; });
  if (cell == cells.end()) {
    return;
  }
  const Summary thirty = of(*cell, "0-30 mph", "rollout");
  const Summary fifty = of(*cell, "0-50 mph", "rollout");
  const Summary rolling = of(*cell, "30-50 mph", "rollout");
  const Summary six = of(*cell, "0-30 mph", "together");
  std::printf(
      "- With %s expect ±%.2f s at 0-30 mph, ±%.2f s at 0-50 mph and ±%.2f s at 30-50 mph of one run.\n"
      "  Half of the runs come within %.3f s at 0-30 mph; of the results of six runs, half within %.3f s.\n",
      with, 0.5 * thirty.width_s, 0.5 * fifty.width_s, 0.5 * rolling.width_s, thirty.median_s, six.median_s);
}

void print_table(const std::vector<CellResult>& cells, bool real) {
  bool begun = false;
  for (const CellResult& cell : cells) {
    if (has_together(cell) == real) {
      continue;
    }
    if (!begun) {
      std::fputs(real ? real_words : grid_words, stdout);
      print_head_of(cell);
      begun = true;
    }
    print_row(cell);
  }
}

void print_real_log(const std::filesystem::path& folder, const char* words) {
  if (!std::filesystem::exists(folder)) {
    return;
  }
  Score score;
  for (const sim::RealFigure& figure : sim::real_figures(folder)) {
    score.add(figure.found, figure.true_s);
  }
  const Summary s = summary(score);
  std::printf("| %s | %zu | %zu | %.2f | %.2f |\n", words, s.n, score.held, 0.5 * s.width_s, s.median_s);
}

void print_real_logs() {
  const std::filesystem::path truth = std::filesystem::path(BOTHWAYS_SHARED_DATA) / "truth";
  if (!std::filesystem::exists(truth)) {
    return;
  }
  std::fputs(real_log_words, stdout);
  print_real_log(truth / "nagoya2023_rtk5hz_posonly", "positions only, 5 Hz (carrier phase)");
  print_real_log(truth / "nagoya2023_spp1hz", "1 Hz, speed from Doppler, single point");
}

}  // namespace

void write_markdown(const std::vector<CellResult>& cells, std::size_t runs) {
  std::printf(intro, runs);
  std::puts("\n## In words\n\nA small scooter at full throttle:\n");
  print_sentence(cells, "scooter-25hz-good", "a good 25 Hz logger (noise 0.05 m/s)");
  print_sentence(cells, "scooter-10hz-good", "a good 10 Hz logger (0.05 m/s)");
  print_sentence(cells, "scooter-5hz-average", "a 5 Hz logger of average noise (0.12 m/s)");
  print_sentence(cells, "scooter-1hz-logger", "a quiet 1 Hz logger (0.05 m/s)");
  print_sentence(cells, "scooter-1hz-phone", "a 1 Hz phone (0.3 m/s, late, zero held too long)");
  print_sentence(cells, "scooter-5hz-positions", "positions only, 5 Hz");
  print_table(cells, false);
  print_table(cells, true);
  print_real_logs();
}

}  // namespace bothways::truth
