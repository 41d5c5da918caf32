#include "truth/print.hpp"

#include <algorithm>
#include <cstdio>
#include <string>

namespace bothways::truth {

namespace {

void print_text(const CellResult& cell) {
  std::printf("\n%s (%s)\n", cell.cell.c_str(), cell.words.c_str());
  std::printf(
      "  found %zu of %zu runs (%.1f %%); of %zu other starts %zu taken for runs (%.1f %%), %.1f %% listed; ",
      cell.found_runs, cell.true_runs, percent(cell.found_runs, cell.true_runs), cell.other_starts,
      cell.false_runs, percent(cell.false_runs, cell.other_starts),
      percent(cell.listed_starts, cell.other_starts));
  std::printf("%zu pairs; ", cell.pairs);
  std::printf("%.2f ms a run\n", cell.find_ms / std::max(1.0, static_cast<double>(cell.timed_runs)));
  std::printf("  %-10s %-8s %5s %8s %7s %7s  %6s %-13s %7s %5s %-9s | naive %8s %7s %7s\n", "split", "clock",
              "n", "bias", "rms", "median", "holds", "(95 %)", "width", "z^2", "", "bias", "rms", "median");
  for (const auto& row : cell.rows) {
    const Summary f = summary(row.found);
    const Summary n = summary(row.naive);
    std::printf("  %-10s %-8s %5zu ", row.split.c_str(), row.clock.c_str(), f.n);
    if (f.n == 0) {
      std::printf("%8s %7s %7s  %6s %-13s %7s %5s %-9s |", "-", "-", "-", "-", "", "-", "-", "");
    } else {
      std::printf("%+8.4f %7.4f %7.4f  %5.1f%% (%4.1f..%5.1f) %7.3f %5.2f %-9s |", f.bias_s, f.rms_s,
                  f.median_s, 100.0 * f.coverage, 100.0 * f.coverage_lo, 100.0 * f.coverage_hi, f.width_s,
                  f.mean_square_z, remark(f));
    }
    if (n.n > 0) {
      std::printf("       %+8.4f %7.4f %7.4f", n.bias_s, n.rms_s, n.median_s);
    }
    const Summary oracle = summary(row.oracle);
    if (oracle.n > 0 && oracle.rms_s > 0.0) {
      std::printf("  oracle %7.4f, ratio %.2f", oracle.rms_s, f.rms_s / oracle.rms_s);
    }
    if (row.found.broken > 0) {
      std::printf("  %zu BROKEN", row.found.broken);
    }
    std::putchar('\n');
  }
}

void print_csv(const CellResult& cell) {
  for (const auto& row : cell.rows) {
    const Summary f = summary(row.found);
    const Summary n = summary(row.naive);
    std::printf("%s,%s,%s,%zu,%zu,%zu,%zu,%zu,", cell.cell.c_str(), row.split.c_str(), row.clock.c_str(),
                cell.true_runs, cell.found_runs, cell.other_starts, cell.false_runs, cell.listed_starts);
    if (f.n == 0) {
      std::printf("0,,,,,,,,,%zu,", row.found.broken);
    } else {
      std::printf("%zu,%.5f,%.5f,%.5f,%.4f,%.4f,%.4f,%.4f,%.3f,%zu,", f.n, f.bias_s, f.rms_s, f.median_s,
                  f.coverage, f.coverage_lo, f.coverage_hi, f.width_s, f.mean_square_z, row.found.broken);
    }
    if (n.n == 0) {
      std::printf("0,,,,");
    } else {
      std::printf("%zu,%.5f,%.5f,%.5f,", n.n, n.bias_s, n.rms_s, n.median_s);
    }
    if (row.oracle.error_s.empty()) {
      std::putchar('\n');
    } else {
      std::printf("%.5f\n", summary(row.oracle).rms_s);
    }
  }
}

void print_csv_head() {
  std::puts(
      "cell,split,clock,true_runs,found_runs,other_starts,false_runs,listed_starts,n,bias_s,rms_s,median_s,"
      "coverage,"
      "coverage_lo,coverage_hi,width_s,mean_square_z,broken,naive_n,naive_bias_s,naive_rms_s,naive_median_s,"
      "oracle_rms_s");
}

}  // namespace

double percent(std::size_t part, std::size_t whole) {
  return whole == 0 ? 0.0 : 100.0 * static_cast<double>(part) / static_cast<double>(whole);
}

const char* remark(const Summary& found) {
  if (found.n < 20) {
    return "";
  }
  const bool low = found.coverage < 0.92;
  const bool high = found.coverage > 0.98;
  const bool wild = found.rms_s > 1.6 * found.median_s;
  if (wild) {
    return low ? "LOW WILD" : high ? "HIGH WILD" : "WILD";
  }
  return low ? "LOW" : high ? "HIGH" : "";
}

void print_head(Format format) {
  if (format == Format::csv) {
    print_csv_head();
  }
}

void print(Format format, const CellResult& cell) {
  if (format == Format::csv) {
    print_csv(cell);
  } else {
    print_text(cell);
  }
  std::fflush(stdout);
}

}  // namespace bothways::truth
