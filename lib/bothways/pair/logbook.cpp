#include "bothways/pair/logbook.hpp"

#include "bothways/core/parallel.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/run/same_ride.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <iterator>
#include <map>
#include <utility>

namespace bothways {

namespace {

constexpr const char* unnamed = "set-up not named";

/// Drops what no later step needs: a logbook holds a thousand rides.
void thin(std::vector<Ride>& rides) {
  for (Ride& ride : rides) {
    ride.trace = {};
    ride.profile = {};
    for (Run& run : ride.runs.accepted) {
      run.curve = {};
    }
  }
}

bool is_of(const LogbookEntry& entry, const Ride& ride) {
  const Conditions& conditions = ride.conditions ? *ride.conditions : Conditions{};
  const Ride& last = entry.side.rides.back();
  return last.dated && ride.dated && entry.vehicle == conditions.vehicle && entry.setup == conditions.setup &&
         seconds_between(last.last, ride.first) <= day_pause_s;
}

/// The entry of the same day and set-up, which may lie before others where set-ups were ridden in turns.
LogbookEntry& entry_of(std::vector<LogbookEntry>& entries, const Ride& ride) {
  const auto found = std::find_if(entries.rbegin(), entries.rend(),
                                  [&](const LogbookEntry& entry) { return is_of(entry, ride); });
  if (found != entries.rend()) {
    return *found;
  }
  LogbookEntry entry;
  if (ride.conditions) {
    entry.vehicle = ride.conditions->vehicle;
    entry.setup = ride.conditions->setup;
  }
  entry.side.name = entry.setup.empty() ? unnamed : entry.setup;
  entries.push_back(std::move(entry));
  return entries.back();
}

/// Adds the rides and pairs of a day to those of the days before.
void add_day(const Side& day, Side& all) {
  const std::size_t offset = all.rides.size();
  all.rides.insert(all.rides.end(), day.rides.begin(), day.rides.end());
  for (Pair pair : day.pairs.made) {
    pair.id = static_cast<int>(all.pairs.made.size()) + 1;
    pair.ride += offset;
    pair.other_ride += offset;
    all.pairs.made.push_back(std::move(pair));
  }
}

/// All days of a set-up, as one side.
Side side_of(const std::vector<const LogbookEntry*>& days) {
  Side all{.name = days.front()->side.name};
  for (const LogbookEntry* day : days) {
    add_day(day->side, all);
  }
  return all;
}

/// An entry by its rides: what a store knows it by, where there is one.
struct Keyed {
  LogbookEntry* entry = nullptr;
  std::string key;
};

/// Works out days and changes, or finds them in the store.
class Workshop {
 public:
  Workshop(const std::vector<SplitSpec>& splits, Clock clock, const LogbookStore* store)
      : splits_(splits), clock_(clock), store_(store) {}

  [[nodiscard]] Keyed day_of(LogbookEntry& entry) const {
    const auto& rides = entry.side.rides;
    Keyed keyed{.entry = &entry, .key = store_ != nullptr ? store_->key_of(rides) : ""};
    std::optional<LogbookDay> day = store_ != nullptr ? store_->find_day(keyed.key) : std::nullopt;
    if (!day) {
      Averaged averaged = average_runs(rides, splits_);
      day = LogbookDay{std::move(averaged.pairs), std::move(averaged.overall)};
      if (store_ != nullptr) {
        store_->keep_day(keyed.key, *day);
      }
    }
    entry.side.pairs = std::move(day->pairs);
    entry.overall = std::move(day->overall);
    return keyed;
  }

  [[nodiscard]] Comparison change_of(const std::vector<Keyed>& before,
                                     const std::vector<Keyed>& after) const {
    const LogbookStore::Keys keys_before = keys_of(before);
    const LogbookStore::Keys keys_after = keys_of(after);
    std::optional<Comparison> change =
        store_ != nullptr ? store_->find_change(keys_before, keys_after) : std::nullopt;
    if (!change) {
      const std::array<Side, 2> sides{side_of(entries_of(before)), side_of(entries_of(after))};
      change = compare(sides, splits_, {.clock = clock_, .more = More::told}).front();
      if (store_ != nullptr) {
        store_->keep_change(keys_before, keys_after, *change);
      }
    }
    return std::move(*change);
  }

 private:
  static LogbookStore::Keys keys_of(const std::vector<Keyed>& days) {
    LogbookStore::Keys keys;
    keys.reserve(days.size());
    for (const Keyed& day : days) {
      keys.push_back(day.key);
    }
    return keys;
  }

  static std::vector<const LogbookEntry*> entries_of(const std::vector<Keyed>& days) {
    std::vector<const LogbookEntry*> entries;
    entries.reserve(days.size());
    for (const Keyed& day : days) {
      entries.push_back(day.entry);
    }
    return entries;
  }

  const std::vector<SplitSpec>& splits_;
  Clock clock_;
  const LogbookStore* store_;
};

/// The days with a pair of one vehicle's set-up before, and of the one now.
struct Latest {
  std::vector<Keyed> before;
  std::vector<Keyed> now;

  /// Days without a pair say nothing. @return  whether there is something to compare
  bool take(const Keyed& day) {
    if (day.entry->side.pairs.made.empty()) {
      return false;
    }
    if (!now.empty() && now.back().entry->side.name != day.entry->side.name) {
      before = std::exchange(now, {});
    }
    now.push_back(day);
    return !before.empty();
  }
};

/// A change that is to be worked out.
struct ToCompare {
  LogbookEntry* entry = nullptr;
  Latest sides;
};

/// What each day with a pair is compared with.
std::vector<ToCompare> changes_of(const std::vector<Keyed>& days) {
  std::vector<ToCompare> changes;
  std::map<std::string, Latest> vehicles;
  for (const Keyed& day : days) {
    Latest& latest = vehicles[day.entry->vehicle];
    if (day.entry->side.rides.front().dated && latest.take(day)) {
      changes.push_back({day.entry, latest});
    }
  }
  return changes;
}

/// Entries with their rides, whose runs are numbered.
std::vector<LogbookEntry> sorted_into_days(std::vector<Ride> rides) {
  std::stable_sort(rides.begin(), rides.end(), [](const Ride& a, const Ride& b) {
    return a.dated != b.dated ? a.dated : a.dated && a.first < b.first;
  });
  leave_out_same_rides(rides);
  thin(rides);
  std::vector<LogbookEntry> entries;
  for (Ride& ride : rides) {
    entry_of(entries, ride).side.rides.push_back(std::move(ride));
  }
  for (LogbookEntry& entry : entries) {
    int id = 0;
    for (Ride& ride : entry.side.rides) {
      for (Run& run : ride.runs.accepted) {
        run.id = ++id;
      }
    }
  }
  return entries;
}

}  // namespace

Logbook make_logbook(std::vector<Ride> rides, const std::vector<SplitSpec>& splits, Clock clock,
                     const LogbookStore* store, unsigned jobs) {
  Logbook book{.clock = clock, .splits = splits, .entries = sorted_into_days(std::move(rides))};
  const Workshop workshop(splits, clock, store);
  std::vector<Keyed> days(book.entries.size());
  for_each_index(days.size(), jobs, [&](std::size_t i) { days[i] = workshop.day_of(book.entries[i]); });
  const std::vector<ToCompare> changes = changes_of(days);
  for_each_index(changes.size(), jobs, [&](std::size_t i) {
    changes[i].entry->change = workshop.change_of(changes[i].sides.before, changes[i].sides.now);
  });
  return book;
}

}  // namespace bothways
