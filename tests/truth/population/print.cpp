#include "truth/population/print.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>

namespace bothways::population {

namespace {

void print_text(const Table& table) {
  std::vector<std::size_t> width(table.head.size());
  for (std::size_t k = 0; k < width.size(); ++k) {
    width[k] = table.head[k].size();
    for (const auto& row : table.rows) {
      width[k] = std::max(width[k], row.at(k).size());
    }
  }
  const auto line = [&](const std::vector<std::string>& row) {
    std::string text;
    for (std::size_t k = 0; k < row.size(); ++k) {
      const bool is_number =
          !row[k].empty() && row[k].find_first_not_of("0123456789.+-") == std::string::npos;
      text +=
          is_number ? fmt::format("{:>{}}  ", row[k], width[k]) : fmt::format("{:<{}}  ", row[k], width[k]);
    }
    text.erase(text.find_last_not_of(' ') + 1);
    fmt::print("{}\n", text);
  };
  fmt::print("\n{}\n", table.title);
  line(table.head);
  for (const auto& row : table.rows) {
    line(row);
  }
}

void print_csv(const Table& table) {
  const auto line = [](const std::string& first, const std::vector<std::string>& row) {
    fmt::print(R"("{}")", first);
    for (const std::string& cell : row) {
      fmt::print(R"(,"{}")", cell);
    }
    fmt::print("\n");
  };
  line("table", table.head);
  for (const auto& row : table.rows) {
    line(table.title, row);
  }
}

void print_markdown(const Table& table) {
  const auto line = [](const std::vector<std::string>& row) {
    fmt::print("| {} |\n", fmt::join(row, " | "));
  };
  fmt::print("\n## {}\n\n", table.title);
  line(table.head);
  fmt::print("|{}\n", fmt::join(std::vector<std::string>(table.head.size(), "---|"), ""));
  for (const auto& row : table.rows) {
    line(row);
  }
}

void print_figures(const std::vector<Judged>& rides, const char* of, bool with_head) {
  if (with_head && !rides.empty()) {
    fmt::print(
        "of,ride,kind,vehicle,launch,level,split,value_s,sd_s,lo95_s,hi95_s,true_s,word,promised,days,change,"
        "pairs");
    for (const auto& [name, value] : rides.front().traits.value) {
      fmt::print(",{}", name);
    }
    fmt::print("\n");
  }
  for (std::size_t i = 0; i < rides.size(); ++i) {
    const Judged& ride = rides[i];
    for (const Figure& f : ride.figures) {
      fmt::print(R"({},{},"{}",{},{},{},{},{:.5f},{:.5f},{:.5f},{:.5f},{:.5f},{},{:.4f},"{}",{},{})", of, i,
                 to_string(ride.traits.kind), ride.traits.machine, ride.traits.launch, to_string(f.level),
                 split_names[f.split], f.found.value, f.found.sd, f.found.lo95, f.found.hi95, f.true_s,
                 f.word, f.promised, to_string(ride.days), ride.change, ride.pairs_a_side);
      for (const auto& [name, value] : ride.traits.value) {
        fmt::print(",{:.6g}", value);
      }
      fmt::print("\n");
    }
  }
}

bool holds(bool fine, const char* what) {
  if (!fine) {
    fmt::print(stderr, "outside the bounds: {}\n", what);
  }
  return fine;
}

}  // namespace

void print(const Population& population, Format format, bool all_curves) {
  if (format == Format::figures) {
    print_figures(population.rides, "ride", true);
    print_figures(population.couples, "couple", population.rides.empty());
    return;
  }
  const char* hash = format == Format::markdown ? "# " : "";
  if (format != Format::csv) {
    fmt::print("{}Population of {} rides and {} couples, {}\n", hash, population.rides.size(),
               population.couples.size(), words_of_seed(population.seed));
  }
  for (const Table& table : all_tables(population, all_curves)) {
    print(table, format);
  }
}

void print(const Table& table, Format format) {
  (format == Format::csv ? print_csv : format == Format::markdown ? print_markdown : print_text)(table);
}

bool is_within_loose_bounds(const Population& population) {
  const Summary runs = summary_of(
      population.rides, [](const Judged&, const Figure& figure) { return figure.level == Level::run; });
  const Summary loggers = summary_of(population.rides, [](const Judged& ride, const Figure& figure) {
    return ride.traits.kind == Kind::logger && figure.level == Level::run && figure.split == 0;
  });
  const Share found =
      share_of(population.rides, [](const Judged& r) { return std::pair(r.found_runs, r.true_runs); });
  const Share taken = share_of(population.rides, taken_of_others);
  bool fine = holds(runs.broken == 0, "a figure is not finite, or not in its own interval");
  fine = holds(found.hi99 >= 0.85, "fewer than 85 % of the runs found") && fine;
  fine = holds(taken.lo99 <= 0.05, "more than 5 % of the other starts taken for runs") && fine;
  fine = holds(runs.held.hi99 >= 0.94, "fewer than 94 % of the intervals of runs hold the truth") && fine;
  return holds(loggers.median <= 0.15, "a fast logger's median error at 0-30 mph is above 0.15 s") && fine;
}

}  // namespace bothways::population
