#include "truth/population/tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace bothways::population {

namespace {

std::string percent(double share) {
  return fmt::format("{:.1f}", 100.0 * share);
}

std::string seconds(double value) {
  return fmt::format("{:.3f}", value);
}

std::string signed_seconds(double value) {
  return fmt::format("{:+.3f}", value);
}

std::string counts(const std::map<std::string, int>& of) {
  std::string text;
  for (const auto& [what, count] : of) {
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, what.empty() ? "without a word" : what);
  }
  return text;
}

const std::vector<std::string> summary_head{"n",  "rides",  "held %",       "99 % from", "to",
                                            "",   "bias s", "median",       "rms",       "e2/sd2",
                                            "+-", "score",  "PIT in tenths"};

/// LOW or HIGH: the clustered interval leaves the promised coverage out.
std::string remark(const Share& held) {
  constexpr double least = 0.93;
  constexpr double most = 0.97;
  return held.n == 0 ? "" : held.hi99 < least ? "LOW" : held.lo99 > most ? "HIGH" : "";
}

void append(std::vector<std::string>& row, const Summary& s) {
  row.push_back(fmt::format("{}", s.held.n));
  row.push_back(fmt::format("{}", s.held.clusters));
  if (s.held.n == 0) {
    row.resize(row.size() + summary_head.size() - 2);
    return;
  }
  std::string tenths;
  for (const std::size_t count : s.pit) {
    tenths += fmt::format("{}{}", tenths.empty() ? "" : " ", count);
  }
  row.insert(row.end(),
             {percent(s.held.value), percent(s.held.lo99), percent(s.held.hi99),
              s.broken > 0 ? fmt::format("{} BROKEN", s.broken) : remark(s.held), signed_seconds(s.bias),
              seconds(s.median), seconds(s.rms), fmt::format("{:.2f}", s.mean_square), seconds(s.half_width),
              seconds(s.score), tenths});
}

bool is_of(const Judged& ride, int kind) {
  return kind == kinds || ride.traits.kind == static_cast<Kind>(kind);
}

std::string kind_name(int kind) {
  return kind == kinds ? "all" : to_string(static_cast<Kind>(kind));
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
    const Share taken = share_of(rides, [](const Judged& r) {
      return std::pair(std::min(r.false_runs, r.other_starts), r.other_starts);
    });
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
  table.head.insert(table.head.end(), summary_head.begin(), summary_head.end());
  const bool of_couples = level == Level::side || level == Level::difference;
  const auto& rides = of_couples ? population.couples : population.rides;
  for (int kind = 0; kind <= kinds; ++kind) {
    for (int split = 0; split <= splits_asked; ++split) {
      const Summary s = summary_of(rides, [&](const Judged& ride, const Figure& figure) {
        return is_of(ride, kind) && figure.level == level && (split == splits_asked || figure.split == split);
      });
      if (s.held.n > 0 || s.broken > 0) {
        table.rows.push_back({kind_name(kind), split == splits_asked ? "all" : split_names[split]});
        append(table.rows.back(), s);
      }
    }
  }
  return table;
}

Table curve_table(const Population& population, const std::string& trait, const std::vector<double>& edges) {
  Table table{"Runs by " + trait, {trait, "log", "split"}, {}};
  table.head.insert(table.head.end(), summary_head.begin(), summary_head.end());
  for (int kind = 0; kind <= kinds; ++kind) {
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
      const Summary s = summary_of(population.rides, [&](const Judged& ride, const Figure& figure) {
        const double value = ride.traits.value.at(trait);
        const bool last = i + 2 == edges.size();
        return is_of(ride, kind) && figure.level == Level::run && figure.split == 0 && value >= edges[i] &&
               (value < edges[i + 1] || (last && value <= edges[i + 1]));
      });
      if (s.held.n > 0) {
        table.rows.push_back(
            {fmt::format("{:.4g} to {:.4g}", edges[i], edges[i + 1]), kind_name(kind), split_names[0]});
        append(table.rows.back(), s);
      }
    }
  }
  return table;
}

Table words_table(const Population& population) {
  Table table{"Words on the main split of couples: quicker is right wherever the drive grew",
              {"ridden", "drive", "couples", "compared", "quicker", "slower", "cannot tell",
               "word on any split", "wrong word on any"},
              {}};
  for (int days = 0; days <= 3; ++days) {
    for (const double change : {0.0, 0.02, 0.04, 0.08}) {
      std::array<int, 7> n{};
      for (const Judged& couple : population.couples) {
        if (couple.change != change || (days < 3 && couple.days != static_cast<Days>(days))) {
          continue;
        }
        ++n[0];
        bool any = false;
        bool wrong = false;
        for (const Figure& figure : couple.figures) {
          if (figure.level != Level::difference) {
            continue;
          }
          any = any || figure.word != 0;
          wrong = wrong || figure.word > 0 || (figure.word < 0 && change == 0.0);
          if (figure.main) {
            ++n[1];
            ++n[static_cast<std::size_t>(figure.word < 0 ? 2 : figure.word > 0 ? 3 : 4)];
          }
        }
        n[5] += any ? 1 : 0;
        n[6] += wrong ? 1 : 0;
      }
      if (n[0] > 0) {
        table.rows.push_back({days < 3 ? to_string(static_cast<Days>(days)) : "all",
                              fmt::format("{:+.0f} %", 100.0 * change)});
        for (const int count : n) {
          table.rows.back().push_back(fmt::format("{}", count));
        }
      }
    }
  }
  return table;
}

namespace {

struct Curve {
  const char* trait;
  std::vector<double> edges;
  bool asked;  ///< in every report
};

const std::vector<Curve>& curves() {
  static const std::vector<Curve> all{{"smoothing_s", {0.0, 1e-9, 0.1, 0.2, 0.3, 0.4}, true},
                                      {"rest_ratio", {0.02, 0.05, 0.1, 0.2, 0.5, 1.0}, true},
                                      {"tails", {0.01, 0.03, 0.05, 0.07, 0.09}, true},
                                      {"correlation", {0.0, 0.2, 0.4, 0.6, 0.9}, false},
                                      {"growth", {1.0, 1.5, 2.0, 2.5}, false},
                                      {"before_filter", {0.0, 1e-9, 0.33, 0.67, 1.0}, false},
                                      {"noise_mps", {0.02, 0.05, 0.1, 0.2, 0.45}, false},
                                      {"hold_mps", {0.0, 1e-9, 0.4, 0.7, 1.0}, false},
                                      {"speed_delay_s", {0.0, 1e-9, 0.1, 0.2, 0.3}, false},
                                      {"jitter_s", {0.0, 1e-9, 0.005, 0.015, 0.08}, false},
                                      {"speed_step_mps", {0.0, 1e-9, 0.004, 0.02, 0.06, 0.1}, false},
                                      {"wander_mps", {0.005, 0.05, 0.15, 0.4, 1.2}, false},
                                      {"position_m", {0.001, 0.01, 0.05, 0.5}, false},
                                      {"catch_up_s", {1.0, 2.0, 3.0, 4.0}, false},
                                      {"degree_step", {0.0, 5e-9, 2e-7, 2e-6, 2e-5}, false},
                                      {"whole_seconds", {0.0, 0.5, 1.0}, false},
                                      {"start_scatter", {0.005, 0.01, 0.02, 0.05}, false},
                                      {"launch_scatter", {0.03, 0.07, 0.15, 0.3}, false},
                                      {"change_on_mark", {0.0, 0.5, 1.0}, false},
                                      {"head_wind_mps", {0.0, 1.5, 3.0, 6.0}, false}};
  return all;
}

/// Runs by a word that describes the ride: the vehicle, its launch.
Table word_curve(const Population& population, const std::string& title, std::string Traits::*word) {
  std::set<std::string> words;
  for (const Judged& ride : population.rides) {
    words.insert(ride.traits.*word);
  }
  Table table{"Runs by " + title, {title, "log", "split"}, {}};
  table.head.insert(table.head.end(), summary_head.begin(), summary_head.end());
  for (int kind = 0; kind <= kinds; ++kind) {
    for (const std::string& one : words) {
      const Summary s = summary_of(population.rides, [&](const Judged& ride, const Figure& figure) {
        return is_of(ride, kind) && figure.level == Level::run && figure.split == 0 &&
               ride.traits.*word == one;
      });
      if (s.held.n > 0) {
        table.rows.push_back({one, kind_name(kind), split_names[0]});
        append(table.rows.back(), s);
      }
    }
  }
  return table;
}

}  // namespace

std::vector<Table> all_tables(const Population& population, bool all_curves) {
  std::vector<Table> tables;
  if (!population.rides.empty()) {
    tables.push_back(starts_table(population));
    for (const Level level : {Level::run, Level::movement, Level::pair, Level::result}) {
      tables.push_back(level_table(population, level));
    }
  }
  if (!population.couples.empty()) {
    tables.push_back(level_table(population, Level::side));
    tables.push_back(level_table(population, Level::difference));
    tables.push_back(words_table(population));
  }
  for (const Curve& curve : curves()) {
    if (!population.rides.empty() && (curve.asked || all_curves)) {
      tables.push_back(curve_table(population, curve.trait, curve.edges));
    }
  }
  if (!population.rides.empty() && all_curves) {
    tables.push_back(word_curve(population, "vehicle", &Traits::machine));
    tables.push_back(word_curve(population, "launch", &Traits::launch));
  }
  return tables;
}

}  // namespace bothways::population
