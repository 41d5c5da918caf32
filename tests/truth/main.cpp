// The bench of truth: are the times right, and do the 95 % intervals hold the truth as often as they say?
//
//     bothways_truth                              the whole grid, 200 runs a cell
//     bothways_truth --cell 10hz-good             cells whose name contains the text (may be repeated)
//     bothways_truth --list                       names of the cells
//     bothways_truth --runs 1000 --format csv     more runs; one row a cell, split and clock
//     bothways_truth --told                       the receiver's noise is told, not estimated: the oracle
//     bothways_truth --short --check              a few cells, loose bounds; exit code 1 outside of them
//
// Rides are simulated (tests/support/simulate) and go through speed_series and find_runs. Beside each row
// stands common practice: clock from the first sample above 0.5 m/s, straight lines between samples.
// "movement" rows count from first movement, "rollout" rows from one foot (0.3048 m) of travel. "two-way"
// rows: pairs against the mean of their true accelerations at each speed; beside it the plain mean of the two
// times. "flat", "overall" rows (slope and wind cells): pairs and means of pairs against a level, windless
// road; the wind-squared part is no error of the pairing and stays in (about 0.5 % at 0-30 mph in 3 m/s).

#include "truth/bench.hpp"

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <string>

namespace {

using bothways::truth::CellResult;
using bothways::truth::Summary;

struct Arguments {
  bothways::truth::BenchOptions bench;
  bool csv = false;
  bool list = false;
  bool check = false;
  bool help = false;
  bool wrong = false;
};

Arguments parse(int argc, char** argv) {
  Arguments a;
  for (int i = 1; i < argc && !a.wrong; ++i) {
    const std::string option = argv[i];
    const bool has_value = i + 1 < argc;
    if (option == "--cell" && has_value) {
      a.bench.filters.emplace_back(argv[++i]);
    } else if (option == "--runs" && has_value) {
      a.bench.runs = std::strtoul(argv[++i], nullptr, 10);
      a.wrong = a.bench.runs == 0;
    } else if (option == "--format" && has_value) {
      const std::string format = argv[++i];
      a.csv = format == "csv";
      a.wrong = !a.csv && format != "text";
    } else if (option == "--short") {
      a.bench.short_version = true;
    } else if (option == "--told") {
      a.bench.told = true;
    } else if (option == "--check") {
      a.check = true;
    } else if (option == "--list") {
      a.list = true;
    } else if (option == "--help") {
      a.help = true;
    } else {
      a.wrong = true;
    }
  }
  return a;
}

void print_help() {
  std::puts(
      "bothways_truth [--cell TEXT]... [--runs N] [--format text|csv] [--told] [--short] [--check] [--list]\n"
      "Times simulated rides of known truth and scores the times and their 95 % intervals.\n"
      "  --cell TEXT    only cells whose name contains TEXT; may be repeated\n"
      "  --runs N       at least N true runs a cell (200)\n"
      "  --format csv   one row a cell, split and clock\n"
      "  --told         tell the receiver's noise instead of estimating it\n"
      "  --short        only a few cells\n"
      "  --check        exit code 1 if a cell is outside loose bounds (found, coverage)\n"
      "  --list         names of the cells\n"
      "Columns: n figures found; bias, rms, median size of the error; share of intervals that hold the "
      "truth\n"
      "with its Wilson 95 % interval; mean width of the interval; the same errors of common practice. "
      "Seconds.");
}

double percent(std::size_t part, std::size_t whole) {
  return whole == 0 ? 0.0 : 100.0 * static_cast<double>(part) / static_cast<double>(whole);
}

void print_text(const CellResult& cell) {
  std::printf(
      "\n%s: found %zu of %zu runs (%.1f %%), falsely %zu beside %zu other starts (%.1f %%), %zu pairs, %.2f "
      "ms a "
      "run\n",
      cell.cell.c_str(), cell.found_runs, cell.true_runs, percent(cell.found_runs, cell.true_runs),
      cell.false_runs, cell.other_starts, percent(cell.false_runs, cell.other_starts), cell.pairs,
      cell.find_ms * static_cast<double>(cell.logs) / static_cast<double>(cell.true_runs));
  std::printf("  %-10s %-8s %5s %8s %7s %7s  %6s %-13s %7s | naive %8s %7s %7s\n", "split", "clock", "n",
              "bias", "rms", "median", "holds", "(95 %)", "width", "bias", "rms", "median");
  for (const auto& row : cell.rows) {
    const Summary f = summary(row.found);
    const Summary n = summary(row.naive);
    if (f.n == 0) {
      std::printf("  %-10s %-8s %5zu %8s %7s %7s  %6s %-13s %7s |", row.split.c_str(), row.clock.c_str(), f.n,
                  "-", "-", "-", "-", "", "-");
    } else {
      std::printf("  %-10s %-8s %5zu %+8.4f %7.4f %7.4f  %5.1f%% (%4.1f..%5.1f) %7.3f |", row.split.c_str(),
                  row.clock.c_str(), f.n, f.bias_s, f.rms_s, f.median_s, 100.0 * f.coverage,
                  100.0 * f.coverage_lo, 100.0 * f.coverage_hi, f.width_s);
    }
    if (n.n > 0) {
      std::printf("       %+8.4f %7.4f %7.4f", n.bias_s, n.rms_s, n.median_s);
    }
    if (row.found.broken > 0) {
      std::printf("  %zu BROKEN", row.found.broken);
    }
    std::putchar('\n');
  }
  std::fflush(stdout);
}

void print_csv_head() {
  std::puts(
      "cell,split,clock,true_runs,found_runs,other_starts,false_runs,n,bias_s,rms_s,median_s,coverage,"
      "coverage_lo,"
      "coverage_hi,width_s,broken,naive_n,naive_bias_s,naive_rms_s,naive_median_s");
}

void print_csv(const CellResult& cell) {
  for (const auto& row : cell.rows) {
    const Summary f = summary(row.found);
    const Summary n = summary(row.naive);
    std::printf("%s,%s,%s,%zu,%zu,%zu,%zu,", cell.cell.c_str(), row.split.c_str(), row.clock.c_str(),
                cell.true_runs, cell.found_runs, cell.other_starts, cell.false_runs);
    if (f.n == 0) {
      std::printf("0,,,,,,,,%zu,", row.found.broken);
    } else {
      std::printf("%zu,%.5f,%.5f,%.5f,%.4f,%.4f,%.4f,%.4f,%zu,", f.n, f.bias_s, f.rms_s, f.median_s,
                  f.coverage, f.coverage_lo, f.coverage_hi, f.width_s, row.found.broken);
    }
    std::printf("%zu,%.5f,%.5f,%.5f\n", n.n, n.bias_s, n.rms_s, n.median_s);
  }
  std::fflush(stdout);
}

/// Loose bounds for a small number of runs: finds nearly all, and no interval is grossly wrong.
bool acceptable(const CellResult& cell) {
  bool fine =
      percent(cell.found_runs, cell.true_runs) >= 95.0 && percent(cell.false_runs, cell.other_starts) <= 5.0;
  for (const auto& row : cell.rows) {
    const Summary f = summary(row.found);
    fine = fine && row.found.broken == 0 && (f.n > 0 || row.clock != "rollout") &&
           (row.clock != "rollout" || f.coverage_hi >= 0.9);
  }
  return fine;
}

}  // namespace

int main(int argc, char** argv) {
  const Arguments arguments = parse(argc, argv);
  if (arguments.wrong || arguments.help) {
    print_help();
    return arguments.wrong ? 2 : 0;
  }
  if (arguments.list) {
    for (const auto& cell : bothways::truth::cells()) {
      std::puts(cell.name.c_str());
    }
    return 0;
  }
  bool fine = true;
  std::size_t done = 0;
  try {
    if (arguments.csv) {
      print_csv_head();
    }
    bothways::truth::run_bench(arguments.bench, [&](const CellResult& cell) {
      (arguments.csv ? print_csv : print_text)(cell);
      ++done;
      if (arguments.check && !acceptable(cell)) {
        fine = false;
        std::fprintf(stderr, "%s is outside the bounds\n", cell.cell.c_str());
      }
    });
  } catch (const std::exception& error) {
    std::fprintf(stderr, "bothways_truth: %s\n", error.what());
    return 1;
  }
  if (done == 0) {
    std::fprintf(stderr, "no cell has such a name; --list shows all\n");
    return 2;
  }
  return fine ? 0 : 1;
}
