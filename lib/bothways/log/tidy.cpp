#include "bothways/log/tidy.hpp"

#include "bothways/log/dates.hpp"
#include "bothways/log/speed_unit.hpp"
#include "bothways/log/spread.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

namespace bothways {

namespace {

constexpr double highest_m = 1e5;

struct ValueTallies {
  Tally position;
  Tally speed;
  Tally negative;
  Tally empty;
};

void keep_if(double& value, bool good) {
  if (!good) {
    value = unknown;
  }
}

/// Makes unknown what cannot be. False if nothing useful is left.
bool check_values(Fix& fix, std::size_t line, ValueTallies& tallies) {
  const bool written = is_known(fix.lat_deg) || is_known(fix.lon_deg);
  if (written && !(std::abs(fix.lat_deg) <= 90.0 && std::abs(fix.lon_deg) <= 180.0)) {
    tallies.position.add(line);
    fix.lat_deg = unknown;
    fix.lon_deg = unknown;
  }
  if (fix.speed_mps < 0.0) {  // how phones say that they do not know
    tallies.negative.add(line);
    fix.speed_mps = unknown;
  } else if (fix.speed_mps > fastest_speed_mps) {
    tallies.speed.add(line);
    fix.speed_mps = unknown;
  }
  keep_if(fix.course_deg, fix.course_deg >= 0.0 && fix.course_deg <= 360.0);
  keep_if(fix.ele_m, std::abs(fix.ele_m) <= highest_m);
  keep_if(fix.hdop, fix.hdop > 0.0 && std::isfinite(fix.hdop));
  keep_if(fix.speed_sd_mps, fix.speed_sd_mps > 0.0 && std::isfinite(fix.speed_sd_mps));
  keep_if(fix.position_sd_m, fix.position_sd_m > 0.0 && std::isfinite(fix.position_sd_m));
  if (!is_known(fix.lat_deg) && !is_known(fix.speed_mps)) {
    tallies.empty.add(line);
    return false;
  }
  return true;
}

/// Keeps the rows named by `order`, in that order.
void reorder(Draft& draft, const std::vector<std::size_t>& order) {
  const auto pick = [&order](auto& column) {
    std::remove_reference_t<decltype(column)> picked;
    picked.reserve(order.size());
    for (const std::size_t row : order) {
      picked.push_back(column[row]);
    }
    column = std::move(picked);
  };
  pick(draft.fixes);
  pick(draft.lines);
  for (Channel& channel : draft.channels) {
    pick(channel.value);
  }
}

/// True if the times of what is left strictly increase.
bool drop_useless(Draft& draft) {
  ValueTallies tallies;
  std::vector<std::size_t> bad;
  bool in_order = true;
  Instant last{std::numeric_limits<std::int64_t>::min()};
  for (std::size_t i = 0; i < draft.fixes.size(); ++i) {
    if (check_values(draft.fixes[i], draft.lines[i], tallies)) {
      in_order = in_order && last < draft.fixes[i].time;
      last = draft.fixes[i].time;
    } else {
      bad.push_back(i);
    }
  }
  if (!bad.empty()) {
    std::vector<std::size_t> good;
    std::size_t next_bad = 0;
    for (std::size_t i = 0; i < draft.fixes.size(); ++i) {
      if (next_bad < bad.size() && bad[next_bad] == i) {
        ++next_bad;
      } else {
        good.push_back(i);
      }
    }
    reorder(draft, good);
  }
  add_note(draft.notes, "bad-position", tallies.position,
           "position was left out because it is no place on Earth or cannot be read",
           "positions were left out because they are no place on Earth or cannot be read");
  add_note(draft.notes, "speed-invalid", tallies.negative,
           "speed was left out because it is negative, which means \"not known\"",
           "speeds were left out because they are negative, which means \"not known\"");
  add_note(draft.notes, "speed-absurd", tallies.speed, "speed above 200 m/s (720 km/h) was left out",
           "speeds above 200 m/s (720 km/h) were left out");
  add_note(draft.notes, "empty-fix", tallies.empty, "record with neither position nor speed was left out",
           "records with neither position nor speed were left out");
  return in_order;
}

void sort_by_time(Draft& draft) {
  Tally backwards;
  const std::vector<Fix>& fixes = draft.fixes;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    if (fixes[i].time < fixes[i - 1].time) {
      backwards.add(draft.lines[i]);
    }
  }
  if (backwards.count == 0) {
    return;
  }
  std::vector<std::size_t> order(fixes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return fixes[a].time < fixes[b].time; });
  reorder(draft, order);
  add_note(draft.notes, "time-backwards", backwards, "time goes backwards; the log was sorted by time",
           "times go backwards; the log was sorted by time");
}

/// Fills what `into` does not know.
void merge(Fix& into, const Fix& from) {
  const auto fill = [](double& value, double other) {
    if (!is_known(value)) {
      value = other;
    }
  };
  if (!is_known(into.lat_deg)) {
    into.lat_deg = from.lat_deg;
    into.lon_deg = from.lon_deg;
  }
  fill(into.ele_m, from.ele_m);
  fill(into.speed_mps, from.speed_mps);
  fill(into.course_deg, from.course_deg);
  fill(into.speed_sd_mps, from.speed_sd_mps);
  fill(into.position_sd_m, from.position_sd_m);
  fill(into.hdop, from.hdop);
  if (into.satellites < 0) {
    into.satellites = from.satellites;
  }
}

void merge_duplicates(Draft& draft) {
  Tally repeated;
  std::vector<std::size_t> kept;
  std::vector<Fix>& fixes = draft.fixes;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    if (i > 0 && fixes[i].time == fixes[i - 1].time) {
      if (repeated.count == 0) {
        kept.resize(i);
        std::iota(kept.begin(), kept.end(), std::size_t{0});
      }
      repeated.add(draft.lines[i]);
      merge(fixes[kept.back()], fixes[i]);
    } else if (repeated.count > 0) {
      kept.push_back(i);
    }
  }
  if (repeated.count > 0) {
    reorder(draft, kept);
    add_note(draft.notes, "duplicate-time", repeated,
             "record has the time of the one before; the two were made one",
             "records have the time of the one before; they were made one with it");
  }
}

}  // namespace

void tidy(Draft& draft) {
  if (!drop_useless(draft)) {
    spread_whole_seconds(draft);
    sort_by_time(draft);
    merge_duplicates(draft);
  }
  check_speed_unit(draft.fixes, draft.notes);
  if (draft.dated) {
    note_dates(draft);
  }
}

}  // namespace bothways
