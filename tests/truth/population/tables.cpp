#include "truth/population/tables.hpp"

#include "truth/population/table_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <iterator>
#include <set>
#include <string>

namespace bothways::population {

namespace {

std::string counts(const std::map<std::string, int>& of) {
  std::string text;
  for (const auto& [what, count] : of) {
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, what.empty() ? "without a word" : what);
  }
  return text;
}

}  // namespace

std::string words_of_seed(std::uint64_t seed) {
  return seed < first_judging_seed ? fmt::format("seed {}: for tuning; no page is written from it", seed)
                                   : fmt::format("seed {}: for judging; nothing may be tuned on it", seed);
}

Table starts_table(const Population& population) {
  Table table{
      "Starts: runs at full throttle found, other starts taken for runs, splits told that were not reached",
      {"log", "rides", "runs", "found %", "99 % from", "to", "others", "taken %", "99 % from", "to",
       "not reached", "told", "ms a run", "left out as", "taken were"},
      {}};
  for (int kind = 0; kind <= kinds; ++kind) {
    std::vector<Judged> rides;
    std::copy_if(population.rides.begin(), population.rides.end(), std::back_inserter(rides),
                 [&](const Judged& ride) { return is_of(ride, kind); });
    if (rides.empty()) {
      continue;
    }
    Judged sum;
    for (const Judged& ride : rides) {
      sum.found_runs += ride.found_runs;
      sum.false_runs += ride.false_runs;
      sum.find_s += ride.find_s;
      sum.unreached += ride.unreached;
      sum.asked_beyond += ride.asked_beyond;
      for (const auto& [reason, count] : ride.missed) {
        sum.missed[reason] += count;
      }
      for (const auto& [what, count] : ride.taken) {
        sum.taken[what] += count;
      }
    }
    const Share found = share_of(rides, [](const Judged& r) { return std::pair(r.found_runs, r.true_runs); });
    const Share taken = share_of(rides, taken_of_others);
    const double runs = std::max(1, sum.found_runs + sum.false_runs);
    table.rows.push_back({kind_name(kind), fmt::format("{}", rides.size()), fmt::format("{}", found.n),
                          percent(found.value), percent(found.lo99), percent(found.hi99),
                          fmt::format("{}", taken.n), percent(taken.value), percent(taken.lo99),
                          percent(taken.hi99), fmt::format("{}", sum.asked_beyond),
                          fmt::format("{}", sum.unreached), fmt::format("{:.1f}", 1e3 * sum.find_s / runs),
                          counts(sum.missed), counts(sum.taken)});
  }
  return table;
}

Table level_table(const Population& population, Level level) {
  static const std::map<Level, std::string> titles{
      {Level::run, "Runs, from one foot of travel, against their own time on that road in that wind"},
      {Level::movement, "Runs, from first movement, likewise"},
      {Level::pair, "Pairs, against the level road in still air"},
      {Level::result, "Result lines (all pairs of a ride), against the level road in still air"},
      {Level::side, "Sides of couples, against the level road in still air on an average day"},
      {Level::difference, "Differences, after less before, against what the change does on the level road"}};
  Table table{titles.at(level), {"log", "split"}, {}};
  table.head.insert(table.head.end(), summary_head().begin(), summary_head().end());
  const bool of_couples = level == Level::side || level == Level::difference;
  const auto& rides = of_couples ? population.couples : population.rides;
  for (int kind = 0; kind <= kinds; ++kind) {
    for (int split = 0; split <= splits_asked; ++split) {
      const Summary s = summary_of(rides, [&](const Judged& ride, const Figure& figure) {
        return is_of(ride, kind) && figure.level == level && (split == splits_asked || figure.split == split);
      });
      if (s.held.n > 0 || s.broken > 0) {
        table.rows.push_back({kind_name(kind), split == splits_asked ? "all" : split_names[split]});
        append_summary(table.rows.back(), s);
      }
    }
  }
  return table;
}

Table scatter_table(const Population& population) {
  constexpr int quarters = 4;
  static const std::array<const char*, quarters> names{"least", "second", "third", "most"};
  std::array<std::vector<double>, splits_asked> seen;
  for (const Judged& ride : population.rides) {
    for (const Figure& figure : ride.figures) {
      if (figure.level == Level::result && figure.scatter_share >= 0.0) {
        seen.at(static_cast<std::size_t>(figure.split)).push_back(figure.scatter_share);
      }
    }
  }
  for (std::vector<double>& of_split : seen) {
    std::sort(of_split.begin(), of_split.end());
  }
  const auto quarter_of = [&](const Figure& figure) {
    const std::vector<double>& of_split = seen.at(static_cast<std::size_t>(figure.split));
    const auto below =
        std::lower_bound(of_split.begin(), of_split.end(), figure.scatter_share) - of_split.begin();
    return static_cast<int>(quarters * static_cast<std::size_t>(below) / of_split.size());
  };
  Table table{
      "Result lines of two pairs and more, by quarter of the scatter that their pairs show", {"scatter"}, {}};
  table.head.insert(table.head.end(), summary_head().begin(), summary_head().end());
  for (int quarter = 0; quarter < quarters; ++quarter) {
    const Summary s = summary_of(population.rides, [&](const Judged& /*ride*/, const Figure& figure) {
      return figure.level == Level::result && figure.scatter_share >= 0.0 && quarter_of(figure) == quarter;
    });
    table.rows.push_back({names.at(static_cast<std::size_t>(quarter))});
    append_summary(table.rows.back(), s);
  }
  return table;
}

Table sharp_table(const Population& population) {
  Table table{"Runs of good loggers: at most 0.07 m/s, no smoothing over 0.05 s", {"split"}, {}};
  table.head.insert(table.head.end(), summary_head().begin(), summary_head().end());
  for (int split = 0; split < splits_asked; ++split) {
    const Summary s = summary_of(population.rides, [&](const Judged& ride, const Figure& figure) {
      const auto& value = ride.traits.value;
      return ride.traits.kind == Kind::logger && value.at("noise_mps") <= 0.07 &&
             value.at("smoothing_s") <= 0.05 && figure.level == Level::run && figure.split == split;
    });
    table.rows.push_back({split_names[split]});
    append_summary(table.rows.back(), s);
  }
  return table;
}

Table wind_table(const Population& population) {
  Table table{"Wind along the road at a rider's height, m/s, where the runs are said to tell it",
              {"vehicle", "rides with pairs", "told %"},
              {}};
  table.head.insert(table.head.end(), summary_head().begin(), summary_head().end());
  std::set<std::string> vehicles{"all"};
  for (const Judged& ride : population.rides) {
    vehicles.insert(ride.traits.machine);
  }
  for (const std::string& vehicle : vehicles) {
    const auto is_row = [&](const Judged& ride, const Figure& figure) {
      return figure.level == Level::wind && (vehicle == "all" || ride.traits.machine == vehicle);
    };
    int all = 0;
    int told = 0;
    for (const Judged& ride : population.rides) {
      for (const Figure& figure : ride.figures) {
        all += is_row(ride, figure) ? 1 : 0;
        told += is_row(ride, figure) && figure.word != 0 ? 1 : 0;
      }
    }
    const Summary s = summary_of(population.rides, [&](const Judged& ride, const Figure& figure) {
      return is_row(ride, figure) && figure.word != 0;
    });
    table.rows.push_back({vehicle, fmt::format("{}", all), percent(1.0 * told / std::max(1, all))});
    append_summary(table.rows.back(), s);
  }
  return table;
}

namespace {

/// What was said of the couples of one row.
struct Words {
  int couples = 0;
  int compared = 0;  ///< a difference on the main split
  int quicker = 0;
  int slower = 0;
  int any = 0;    ///< couples with a word on any split
  int wrong = 0;  ///< of these, with a wrong one

  void add(const Judged& couple);
};

void Words::add(const Judged& couple) {
  bool said = false;
  bool is_wrong = false;
  for (const Figure& figure : couple.figures) {
    if (figure.level != Level::difference) {
      continue;
    }
    said = said || figure.word != 0;
    is_wrong = is_wrong || figure.word > 0 || (figure.word < 0 && couple.change == 0.0);
    compared += figure.main ? 1 : 0;
    quicker += figure.main && figure.word < 0 ? 1 : 0;
    slower += figure.main && figure.word > 0 ? 1 : 0;
  }
  ++couples;
  any += said ? 1 : 0;
  wrong += is_wrong ? 1 : 0;
}

constexpr int ways = 3;  // of riding the two sides

Words words_of(const Population& population, int days, double change) {
  Words words;
  for (const Judged& couple : population.couples) {
    if (couple.change == change && (days == ways || couple.days == static_cast<Days>(days))) {
      words.add(couple);
    }
  }
  return words;
}

}  // namespace

Table words_table(const Population& population) {
  Table table{"Words on the main split of couples: quicker is right wherever the drive grew",
              {"ridden", "drive", "couples", "compared", "quicker", "slower", "cannot tell",
               "word on any split", "wrong word on any"},
              {}};
  for (int days = 0; days <= ways; ++days) {
    for (const double change : drive_changes) {
      const Words words = words_of(population, days, change);
      if (words.couples == 0) {
        continue;
      }
      table.rows.push_back({days < ways ? to_string(static_cast<Days>(days)) : "all",
                            fmt::format("{:+.0f} %", 100.0 * change)});
      for (const int count : {words.couples, words.compared, words.quicker, words.slower,
                              words.compared - words.quicker - words.slower, words.any, words.wrong}) {
        table.rows.back().push_back(fmt::format("{}", count));
      }
    }
  }
  return table;
}

Table plan_table(const Population& population) {
  Table table{"What plan promised from the side before, for the change there is, and what compare told",
              {"ridden", "drive", "couples", "promised %", "told %", "99 % from", "to", ""},
              {}};
  for (int days = 0; days <= ways; ++days) {
    for (int change = 0; change <= static_cast<int>(drive_changes.size()); ++change) {
      double promised = 0.0;
      const bool all_changes = change == static_cast<int>(drive_changes.size());
      const Share told = share_of(population.couples, [&](const Judged& couple) {
        std::pair<int, int> told_of{0, 0};
        const bool is_row =
            (days == ways || couple.days == static_cast<Days>(days)) &&
            (all_changes ? couple.change != 0.0
                         : couple.change == drive_changes.at(static_cast<std::size_t>(change)));
        for (const Figure& figure : couple.figures) {
          if (is_row && figure.promised >= 0.0) {
            promised += figure.promised;
            told_of = {figure.word != 0 ? 1 : 0, 1};
          }
        }
        return told_of;
      });
      if (told.n == 0) {
        continue;
      }
      promised /= static_cast<double>(told.n);
      table.rows.push_back(
          {days < ways ? to_string(static_cast<Days>(days)) : "all",
           all_changes ? "any change"
                       : fmt::format("{:+.0f} %", 100.0 * drive_changes.at(static_cast<std::size_t>(change))),
           fmt::format("{}", told.n), percent(promised), percent(told.value), percent(told.lo99),
           percent(told.hi99),
           promised < told.lo99   ? "LOW"
           : promised > told.hi99 ? "HIGH"
                                  : ""});
    }
  }
  return table;
}

std::vector<Table> all_tables(const Population& population, bool all_curves) {
  std::vector<Table> tables;
  if (!population.rides.empty()) {
    tables.push_back(starts_table(population));
    for (const Level level : {Level::run, Level::movement, Level::pair, Level::result}) {
      tables.push_back(level_table(population, level));
    }
    tables.push_back(scatter_table(population));
    tables.push_back(wind_table(population));
    tables.push_back(sharp_table(population));
  }
  if (!population.couples.empty()) {
    tables.push_back(level_table(population, Level::side));
    tables.push_back(level_table(population, Level::difference));
    tables.push_back(words_table(population));
    tables.push_back(plan_table(population));
  }
  if (!population.rides.empty()) {
    add_curves(population, all_curves, tables);
  }
  return tables;
}

}  // namespace bothways::population
