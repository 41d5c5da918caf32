#include "bothways/pair/logbook.hpp"

#include "bothways/pair/match.hpp"
#include "lib/pair/made_up.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

using namespace bothways;
using namespace made_up;

namespace {

constexpr double day_s = 86'400.0;

/// Two pairs of a scooter of this power, ridden from `start_s` on.
Ride ride_at(double start_s, const std::string& setup, double power,
             const std::string& vehicle = "Heron 125") {
  const auto pull = [power](double, double v_mps) { return scooter_mps2(v_mps, 0.0, 0.0, power); };
  const Run run = run_of(Start(pull, 14.0), "0-30 mph", 0.01);
  Ride ride = ride_of({});
  for (int k = 0; k < 4; ++k) {
    const bool out = k % 2 == 0;
    ride.runs.accepted.push_back(placed(run, 0, start_s + 120.0 * k, out ? 0.0 : run.length_m, out));
  }
  ride.first = ride.runs.accepted.front().movement;
  ride.last = ride.runs.accepted.back().movement;
  ride.conditions = Conditions{.setup = setup, .vehicle = vehicle};
  return ride;
}

const std::vector<SplitSpec> to_30_mph = parse_splits("0-30 mph");

std::vector<std::string> setups_of(const Logbook& book) {
  std::vector<std::string> names;
  for (const LogbookEntry& entry : book.entries) {
    names.push_back(entry.setup);
  }
  return names;
}

}  // namespace

TEST_CASE("a logbook has an entry for each set-up and day, whatever the order of the rides", "[logbook]") {
  const Logbook book =
      make_logbook({ride_at(8 * day_s, "springs", 1.1), ride_at(0.0, "as bought", 1.0),
                    ride_at(day_s, "as bought", 1.0), ride_at(day_s + 3600.0, "as bought", 1.0)},
                   to_30_mph);
  CHECK(setups_of(book) == std::vector<std::string>{"as bought", "as bought", "springs"});
  CHECK(book.entries[0].side.pairs.made.size() == 2);
  CHECK(book.entries[1].side.rides.size() == 2);
  CHECK(book.entries[1].side.pairs.made.size() == 4);
}

TEST_CASE("the change of an entry is that of compare() with all days of the set-up before", "[logbook]") {
  const std::vector<Ride> first{ride_at(0.0, "as bought", 1.0), ride_at(day_s, "as bought", 1.001)};
  const std::vector<Ride> second{ride_at(8 * day_s, "springs", 1.2), ride_at(9 * day_s, "springs", 1.201)};
  const Logbook book = make_logbook({first[0], first[1], second[0], second[1]}, to_30_mph);
  REQUIRE(book.entries.size() == 4);
  CHECK_FALSE(book.entries[0].change);
  CHECK_FALSE(book.entries[1].change);
  const auto side_of = [](const std::string& name, std::vector<Ride> rides) {
    int id = 0;
    for (Ride& ride : rides) {
      for (Run& run : ride.runs.accepted) {
        run.id = ++id;
      }
    }
    Side side{.name = name, .rides = std::move(rides)};
    side.pairs = pair_runs(side.rides);
    return side;
  };
  for (std::size_t days = 1; days <= 2; ++days) {
    const std::vector<Side> sides{
        side_of("as bought", first),
        side_of("springs", {second.begin(), second.begin() + static_cast<std::ptrdiff_t>(days)})};
    const Comparison expected = compare(sides, to_30_mph).front();
    const auto& change = book.entries[1 + days].change;
    REQUIRE(change);
    REQUIRE(change->differences.size() == 1);
    CHECK(change->before == "as bought");
    CHECK(change->differences[0].text == expected.differences[0].text);
    CHECK(change->differences[0].difference.value == expected.differences[0].difference.value);
    CHECK(change->differences[0].difference.lo95 == expected.differences[0].difference.lo95);
    CHECK(change->differences[0].pairs_after == static_cast<int>(2 * days));
  }
  CHECK(book.entries[3].change->differences[0].verdict == Verdict::quicker);
}

TEST_CASE("set-ups ridden in turns on one day are two entries, and each vehicle has changes of its own",
          "[logbook]") {
  const Logbook turns = make_logbook({ride_at(0.0, "a", 1.0), ride_at(1800.0, "b", 1.1),
                                      ride_at(3600.0, "a", 1.0), ride_at(5400.0, "b", 1.1)},
                                     to_30_mph);
  CHECK(setups_of(turns) == std::vector<std::string>{"a", "b"});
  REQUIRE(turns.entries[1].change);
  CHECK(turns.entries[1].change->differences[0].pairs_before == 4);
  const Logbook two = make_logbook(
      {ride_at(0.0, "a", 1.0), ride_at(day_s, "b", 1.1, "Wren 50"), ride_at(2 * day_s, "b", 1.1)}, to_30_mph);
  CHECK_FALSE(two.entries[1].change);
  REQUIRE(two.entries[2].change);
  CHECK(two.entries[2].change->before == "a");
}

TEST_CASE("rides of an unknown day, without a set-up or without a pair are there and compared with nothing",
          "[logbook]") {
  Ride undated = ride_at(0.0, "b", 1.1);
  undated.dated = false;
  Ride one_way = ride_at(day_s, "b", 1.1);
  one_way.runs.accepted.resize(1);
  Ride untold = ride_at(2 * day_s, "", 1.1);
  untold.conditions.reset();
  const Logbook book = make_logbook({undated, one_way, untold, ride_at(0.0, "a", 1.0)}, to_30_mph);
  CHECK(setups_of(book) == std::vector<std::string>{"a", "b", "", "b"});
  CHECK(book.entries[1].overall.empty());
  CHECK_FALSE(book.entries[1].change);
  CHECK_FALSE(book.entries[2].change);  // no vehicle told: it may be another one
  CHECK(book.entries[2].side.name == "set-up not named");
  CHECK_FALSE(book.entries[3].change);
  CHECK(make_logbook({}, to_30_mph).entries.empty());
}

TEST_CASE("a store is asked for each day and change, and what it finds is taken as it is", "[logbook]") {
  std::map<std::string, LogbookDay> days;
  std::map<std::string, Comparison> changes;
  int worked_out = 0;
  const auto joined = [](const LogbookStore::Keys& before, const LogbookStore::Keys& after) {
    std::string all;
    for (const LogbookStore::Keys* side : {&before, &after}) {
      for (const std::string& key : *side) {
        all += key + ",";
      }
      all += "|";
    }
    return all;
  };
  const auto find = [](const auto& kept, const std::string& key) {
    const auto found = kept.find(key);
    return found == kept.end() ? std::nullopt : std::optional(found->second);
  };
  const LogbookStore store{
      .key_of = [](const std::vector<Ride>& rides) { return std::to_string(rides[0].first.unix_us); },
      .find_day = [&](const std::string& key) { return find(days, key); },
      .keep_day =
          [&](const std::string& key, const LogbookDay& day) {
            ++worked_out;
            days[key] = day;
          },
      .find_change = [&](const auto& before,
                         const auto& after) { return find(changes, joined(before, after)); },
      .keep_change =
          [&](const auto& before, const auto& after, const Comparison& change) {
            ++worked_out;
            changes[joined(before, after)] = change;
          }};
  std::vector<Ride> rides{ride_at(0.0, "a", 1.0), ride_at(day_s, "a", 1.0), ride_at(2 * day_s, "b", 1.1),
                          ride_at(3 * day_s, "b", 1.1), ride_at(4 * day_s, "c", 1.2)};
  const auto texts_of = [](const Logbook& book) {
    std::vector<std::string> texts;
    for (const LogbookEntry& entry : book.entries) {
      texts.push_back(entry.change ? entry.change->differences.at(0).text : "");
    }
    return texts;
  };
  const std::vector<std::string> expected = texts_of(make_logbook(rides, to_30_mph));
  CHECK(texts_of(make_logbook(rides, to_30_mph, Clock::rollout, &store)) == expected);
  CHECK(worked_out == 8);
  CHECK(texts_of(make_logbook(rides, to_30_mph, Clock::rollout, &store)) == expected);
  CHECK(worked_out == 8);
  rides.push_back(ride_at(5 * day_s, "c", 1.2));
  const Logbook longer = make_logbook(rides, to_30_mph, Clock::rollout, &store);
  CHECK(worked_out == 10);  // its day, and its change with the day remembered before it
  CHECK(texts_of(longer) == texts_of(make_logbook(rides, to_30_mph)));
  rides.insert(rides.begin(), ride_at(-day_s, "z", 1.0));  // numbers runs that come after anew
  (void)make_logbook(rides, to_30_mph, Clock::rollout, &store);
  CHECK(worked_out == 13);  // its day, and the changes of both days of "a"
  for (auto& [key, change] : changes) {
    change.differences[0].text = "as remembered";
  }
  rides.erase(rides.begin());
  const auto remembered = texts_of(make_logbook(rides, to_30_mph, Clock::rollout, &store));
  CHECK(std::count(remembered.begin(), remembered.end(), "as remembered") == 4);
}

TEST_CASE("a logbook is the same on any number of threads, with a store and without", "[logbook]") {
  std::vector<Ride> rides;
  for (int day = 0; day < 12; ++day) {
    rides.push_back(ride_at(day * day_s, std::string(1, static_cast<char>('a' + day / 3)), 1.0 + 0.01 * day));
  }
  std::mutex mutex;
  std::map<std::string, LogbookDay> days;
  const LogbookStore store{
      .key_of = [](const std::vector<Ride>& of) { return std::to_string(of[0].first.unix_us); },
      .find_day = [](const std::string& /*key*/) { return std::nullopt; },
      .keep_day =
          [&](const std::string& key, const LogbookDay& day) {
            const std::lock_guard lock(mutex);
            days[key] = day;
          },
      .find_change = [](const auto& /*before*/, const auto& /*after*/) { return std::nullopt; },
      .keep_change = [](const auto& /*before*/, const auto& /*after*/, const Comparison& /*change*/) {}};
  const Logbook one = make_logbook(rides, to_30_mph);
  for (const LogbookStore* kept : {static_cast<const LogbookStore*>(nullptr), &store}) {
    const Logbook many = make_logbook(rides, to_30_mph, Clock::rollout, kept, 4);
    REQUIRE(many.entries.size() == one.entries.size());
    for (std::size_t i = 0; i < one.entries.size(); ++i) {
      CAPTURE(i);
      const LogbookEntry& a = one.entries[i];
      const LogbookEntry& b = many.entries[i];
      CHECK(b.setup == a.setup);
      CHECK(b.overall.at(0).rollout.hi95 == a.overall.at(0).rollout.hi95);
      REQUIRE(b.change.has_value() == a.change.has_value());
      CHECK(a.change.has_value() == (i >= 3));
      if (a.change) {
        CHECK(b.change->differences.at(0).text == a.change->differences.at(0).text);
        CHECK(b.change->differences.at(0).p_value == a.change->differences.at(0).p_value);
      }
    }
  }
  CHECK(days.size() == 12);
}

TEST_CASE("a change tells how many more pairs would show it where its sentence does, as compare() has it",
          "[logbook]") {
  const std::vector<Ride> rides{ride_at(0.0, "a", 1.0), ride_at(3600.0, "b", 1.001)};
  const Logbook book = make_logbook(rides, to_30_mph);
  REQUIRE(book.entries[1].change);
  std::vector<Side> sides{book.entries[0].side, book.entries[1].side};
  const Difference all = compare(sides, to_30_mph).front().differences.front();
  const Difference& told = book.entries[1].change->differences.front();
  CHECK(told.text == all.text);
  CHECK(told.more_pairs == all.more_pairs);
  const Difference none = compare(sides, to_30_mph, {.more = More::none}).front().differences.front();
  CHECK(none.more_pairs == 0);
  CHECK(none.difference.hi95 == all.difference.hi95);
}
