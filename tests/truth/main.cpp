// The bench of truth: are the times right, and do the 95 % intervals hold the truth as often as they say?
//
//     bothways_truth                              the whole grid, 200 runs a cell
//     bothways_truth --cell 10hz-good             cells whose name contains the text (may be repeated)
//     bothways_truth --list                       names of the cells, and what they are
//     bothways_truth --runs 1000 --format csv     more runs; one row a cell, split and clock
//     bothways_truth --format markdown            docs/accuracy.md
//     bothways_truth --told                       the receiver's noise is told, not estimated
//     bothways_truth --oracle                     both, and the ratio of the rms errors
//     bothways_truth --short --check              a few 10 Hz cells; exit code 1 outside of loose bounds
//
// Rides are simulated (tests/support/simulate) and go through speed_series and find_runs. Beside each row
// stands common practice: clock from the first sample above 0.5 m/s, straight lines between samples.
// "movement" rows count from first movement, "rollout" rows from one foot (0.3048 m) of travel. "two-way"
// rows: pairs against the mean of their true accelerations at each speed; beside it the plain mean of the two
// times. "together" rows: the result of three pairs against the mean of their truths.
// "flat", "overall", "one-pair" rows (slope and wind cells): pairs, means of pairs, and the overall line of a
// single pair with its allowance, against a level road both ways in
// the mean wind; the wind-squared part is the same both ways and stays in the truth (0.5 % at 0-30 mph in 3
// m/s). Gusts are no error of one pair's measurement: there only "overall", with the scatter of the pairs,
// and "one-pair" must hold.

#include "truth/bench.hpp"
#include "truth/markdown.hpp"
#include "truth/print.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <numeric>
#include <string>
#include <vector>

namespace {

using bothways::truth::CellResult;
using bothways::truth::Format;

struct Arguments {
  bothways::truth::BenchOptions bench;
  Format format = Format::text;
  bool list = false;
  bool check = false;
  bool help = false;
  bool wrong = false;
};

bool take_value(Arguments& a, const std::string& option, const std::string& value) {
  if (option == "--cell") {
    a.bench.filters.push_back(value);
  } else if (option == "--runs") {
    a.bench.runs = std::strtoul(value.c_str(), nullptr, 10);
    a.wrong = a.bench.runs == 0;
  } else if (option == "--format") {
    a.format = value == "csv" ? Format::csv : value == "markdown" ? Format::markdown : Format::text;
    a.wrong = a.format == Format::text && value != "text";
  } else {
    return false;
  }
  return true;
}

bool take_flag(Arguments& a, const std::string& option) {
  bool* flag = option == "--short"    ? &a.bench.short_version
               : option == "--told"   ? &a.bench.told
               : option == "--oracle" ? &a.bench.oracle
               : option == "--check"  ? &a.check
               : option == "--list"   ? &a.list
               : option == "--help"   ? &a.help
                                      : nullptr;
  if (flag != nullptr) {
    *flag = true;
  }
  return flag != nullptr;
}

Arguments parse(int argc, char** argv) {
  Arguments a;
  for (int i = 1; i < argc && !a.wrong; ++i) {
    if (take_flag(a, argv[i])) {
      continue;
    }
    a.wrong = i + 1 >= argc || !take_value(a, argv[i], argv[i + 1]) || a.wrong;
    ++i;
  }
  return a;
}

void print_help() {
  std::puts(
      "bothways_truth [--cell TEXT]... [--runs N] [--format text|csv|markdown] [--told] [--oracle] "
      "[--short]\n"
      "               [--check] [--list]\n"
      "Times simulated rides of known truth and scores the times and their 95 % intervals.\n"
      "  --cell TEXT    only cells whose name contains TEXT; may be repeated\n"
      "  --runs N       at least N true runs a cell (200)\n"
      "  --format csv   one row a cell, split and clock; markdown: docs/accuracy.md\n"
      "  --told         tell the receiver's noise instead of estimating it\n"
      "  --oracle       do both, and show the ratio of the rms errors\n"
      "  --short        only a few cells\n"
      "  --check        exit code 1 if a cell is outside loose bounds for a good 10 Hz logger: 95 % found "
      "and\n"
      "                 listed, rms 0.03 s at 0-30 mph, coverage 92 % over all cells,\n"
      "                 mean (error / sd)^2 0.04 to 1.3 a row and about 0.25 to 0.7 over all\n"
      "  --list         names of the cells, and what they are\n"
      "Columns: n figures found; bias, rms, median size of the error; share of intervals that hold the "
      "truth\n"
      "with its Wilson 95 % interval; mean width of the interval; z^2, the mean of (error / sd)^2, 1 being "
      "right;\n"
      "the same errors of common practice. "
      "Seconds.\n"
      "LOW, HIGH: coverage outside 92..98 %. WILD: rms above 1.6 times the median.");
}

/// Bounds that hold for a small number of runs too: the figures that a change must not spoil unseen.
bool acceptable(const CellResult& cell) {
  using bothways::truth::percent;
  const bool found = percent(cell.found_runs, cell.true_runs) >= 95.0 &&
                     percent(cell.false_runs, cell.other_starts) <= 5.0 &&
                     percent(cell.listed_starts, cell.other_starts) >= 95.0 &&
                     2 * cell.pairs + 4 >= cell.found_runs;
  return found && std::all_of(cell.rows.begin(), cell.rows.end(), [](const CellResult::Row& row) {
           const auto s = bothways::truth::summary(row.found);
           const bool must = row.clock == "rollout" || row.clock == "two-way";
           const bool exact = row.split != "0-30 mph" || !must || s.rms_s < 0.03;
           // Of 32 to 64 runs that share a log's launch 0.07 to 0.65 was seen, for (5.6) and, of short times
           // from rest, (5.8) are in the sd, and the priors hold worse receivers. A two-way interval holds
           // slope, wind and starts as they usually are; here they are mild.
           const double least = row.clock == "two-way" ? 0.001 : row.split == "30-50 mph" ? 0.2 : 0.04;
           const bool wide = s.mean_square_z > least && s.mean_square_z < 1.3;
           return row.found.broken == 0 && exact && (!must || (s.n > 0 && s.coverage_hi >= 0.92 && wide));
         });
}

int list_cells() {
  for (const auto& cell : bothways::truth::cells()) {
    std::printf("%-28s %s\n", cell.name.c_str(), cell.words.c_str());
  }
  return 0;
}

/// All figures of one clock, over splits and cells.
struct Tally {
  const char* clock;
  std::size_t least_percent;  ///< of the intervals hold the truth
  double least_z2;            ///< bounds of the mean squared error / sd
  double most_z2;
  std::size_t held = 0;
  std::size_t n = 0;
  double z2 = 0.0;  ///< sum

  void add(const CellResult& cell) {
    for (const auto& row : cell.rows) {
      if (row.clock == clock) {
        held += row.found.held;
        n += row.found.z.size();
        z2 = std::inner_product(row.found.z.begin(), row.found.z.end(), row.found.z.begin(), z2);
      }
    }
  }
  /// True if enough intervals hold and the sds are of the right size; else says why not.
  [[nodiscard]] bool is_fine() const {
    if (n == 0) {
      return true;
    }
    const double mean_z2 = z2 / static_cast<double>(n);
    const bool fine = held * 100 >= n * least_percent && mean_z2 >= least_z2 && mean_z2 <= most_z2;
    if (!fine) {
      std::fprintf(
          stderr,
          "%s: %zu of %zu intervals hold the truth (%zu in 100); mean (error / sd)^2 %.2f (%.2f to %.2f)\n",
          clock, held, n, least_percent, mean_z2, least_z2, most_z2);
    }
    return fine;
  }
};

/// Measured in the short version with 60 runs a cell: 0.55, 0.04 (roads, winds and riders are mild here) and
/// 0.21. Time from first movement is a rule (docs/method.md, section 11): wide, and false for the electric
/// bike's soft start, which holds in 72 of 100.
std::vector<Tally> tallies() {
  return {{"rollout", 92, 0.25, 0.7}, {"two-way", 92, 0.01, 1.25}, {"movement", 85, 0.1, 0.6}};
}

int run(const Arguments& arguments) {
  bool fine = true;
  std::vector<Tally> all = tallies();
  std::size_t done = 0;
  std::vector<CellResult> kept;  // the page begins with sentences about all of them
  bothways::truth::print_head(arguments.format);
  bothways::truth::run_bench(arguments.bench, [&](const CellResult& cell) {
    if (arguments.format == Format::markdown) {
      kept.push_back(cell);
    } else {
      bothways::truth::print(arguments.format, cell);
    }
    ++done;
    for (Tally& tally : all) {
      tally.add(cell);
    }
    if (arguments.check && !acceptable(cell)) {
      fine = false;
      std::fprintf(stderr, "%s is outside the bounds\n", cell.cell.c_str());
    }
  });
  if (!kept.empty()) {
    bothways::truth::write_markdown(kept, arguments.bench.runs);
  }
  if (done == 0) {
    std::fprintf(stderr, "no cell has such a name; --list shows all\n");
    return 2;
  }
  for (const Tally& tally : all) {
    fine = (!arguments.check || tally.is_fine()) && fine;
  }
  return fine ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
  const Arguments arguments = parse(argc, argv);
  if (arguments.wrong || arguments.help) {
    print_help();
    return arguments.wrong ? 2 : 0;
  }
  try {
    return arguments.list ? list_cells() : run(arguments);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "bothways_truth: %s\n", error.what());
    return 1;
  }
}
