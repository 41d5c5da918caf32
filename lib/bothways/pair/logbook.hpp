#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/compare.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/run/run.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// One set-up on one day.
struct LogbookEntry {
  std::string vehicle;              ///< Conditions::vehicle; empty: not told
  std::string setup;                ///< Conditions::setup; empty: not told
  Side side;                        ///< the rides of the day and their pairs, without traces and curves
  std::vector<Overall> overall;     ///< of this day alone
  std::optional<Comparison> change; /**< this set-up, with its days until now, against the set-up before it,
                                       of the same vehicle, with all its days; nothing for the first. How many
                                       more pairs would show it is told where its sentence says so */
};

/// What became of a vehicle over many rides.
struct Logbook {
  Clock clock = Clock::rollout;
  std::vector<SplitSpec> splits;
  std::vector<LogbookEntry> entries;  ///< in order of time
};

/// What is made of the rides of one entry.
struct LogbookDay {
  Pairs pairs;
  std::vector<Overall> overall;
};

/// Where parts of a logbook are remembered, so that one that grows is not worked out anew. An entry's rides
/// have a key; a day is known by its key, a change by the keys of all days on its two sides. What is found
/// must be what was kept, to the last bit, for the same splits and clock. All may be called from several
/// threads at once.
struct LogbookStore {
  using Keys = std::vector<std::string>;
  std::function<std::string(const std::vector<Ride>& rides)> key_of;
  std::function<std::optional<LogbookDay>(const std::string& key)> find_day;
  std::function<void(const std::string& key, const LogbookDay& day)> keep_day;
  std::function<std::optional<Comparison>(const Keys& before, const Keys& after)> find_change;
  std::function<void(const Keys& before, const Keys& after, const Comparison& change)> keep_change;
};

/// Sorts rides into set-ups and days, pairs within each, and compares each set-up with the one before. A day
/// ends with a pause of more than day_pause_s between rides of one set-up. What a second log of a ride
/// recorded again counts once. Rides of an unknown day come last, each by itself, and are compared with
/// nothing: nobody knows what came before.
/// @param rides   their runs get numbers that are unique in their entry, whatever else is in the logbook
/// @param splits  that the runs are timed for, at least one; the first decides
/// @param store   may be nullptr; changes nothing but the time it takes
/// @param jobs    threads for days and changes; the result does not depend on it
/// Coverage: tests "[logbook]". The changes are those of compare().
[[nodiscard]] Logbook make_logbook(std::vector<Ride> rides, const std::vector<SplitSpec>& splits,
                                   Clock clock = Clock::rollout, const LogbookStore* store = nullptr,
                                   unsigned jobs = 1);

}  // namespace bothways
