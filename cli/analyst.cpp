// log -> speed -> runs for one log: as a whole, or in the parts that sections of its conditions make of it.
#include "cli/analyst.hpp"

#include "bothways/log/part.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/speed/derive.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace bothways::cli {

namespace {

/// All of a log is read; the order of its dates is in the key of the store (cmd_logbook.cpp).
bool is_plain(const ReadAs& read) {
  return read.part.window.open();
}

Look look_of(Ride ride, Stay stay, std::size_t side) {
  Look look{.ride = std::move(ride), .series = std::nullopt, .side = side, .between = stay.between};
  look.ride.conditions = std::move(stay.conditions);
  look.ride.part = stay.part;
  return look;
}

/// Notes of the log and its conditions stay with its first part.
void put_log_notes(Looks& looks, const LogSummary& summary, const FoundConditions& found) {
  if (!looks.empty()) {
    auto& notes = looks.front().ride.notes;
    notes.insert(notes.begin(), found.notes.begin(), found.notes.end());
    notes.insert(notes.begin(), summary.notes.begin(), summary.notes.end());
  }
}

}  // namespace

Analyst::Analyst(const AnalysisOptions& options, unsigned jobs, const Streams& streams)
    : run_(options.run),
      read_as_(options.read),
      rows_kept_(options.rows_kept),
      store_(is_plain(options.read) ? options.store : std::nullopt),  // it knows no other reading
      streams_(streams) {
  run_.jobs = jobs;
  if (!options.conditions.empty()) {
    conditions_ = read_conditions(options.conditions);
  }
}

Attempt<Looks> Analyst::first(const LogAsked& asked) {
  const FoundConditions found = conditions_ ? *conditions_ : conditions_beside(asked.path);
  if (store_ && asked.window.open()) {
    return found.sections.empty() ? first_of_whole(asked, found) : first_in_parts(asked, found);
  }
  return attempt(asked.path, read_as_, streams_,
                 [&](Log log) { return looks_at(std::move(log), asked, found); });
}

Attempt<Looks> Analyst::second(Looks looks) const {
  if (take_remembered(looks)) {
    return {std::move(looks), ""};
  }
  const bool kept = std::all_of(looks.begin(), looks.end(), [](const Look& l) { return l.series; });
  if (kept) {
    for (Look& look : looks) {
      judge(look, std::move(*look.series));
    }
    return {std::move(looks), ""};
  }
  const std::string path = looks.front().ride.path;
  return attempt(path, read_as_, streams_, [&](const Log& log) {
    for (Look& look : looks) {
      const auto& part = look.ride.part;
      judge(look, speed_series(part ? part_of(log, part->from, part->until) : log));
    }
    return std::move(looks);
  });
}

/// The first look at a log that may be remembered.
Attempt<Looks> Analyst::first_of_whole(const LogAsked& asked, const FoundConditions& found) {
  const auto with_conditions = [&](Ride ride) {
    ride.conditions = found.conditions;
    ride.notes.insert(ride.notes.end(), found.notes.begin(), found.notes.end());
    return Look{.ride = std::move(ride), .series = std::nullopt, .side = asked.side, .remember = true};
  };
  if (auto ride = store_->find_look({asked.path, {}})) {
    Looks looks{with_conditions(std::move(*ride))};
    return run_.splits.empty() ? Attempt<Looks>{std::move(looks), ""} : second(std::move(looks));
  }
  return attempt(asked.path, read_as_, streams_, [&](const Log& log) {
    SpeedSeries series = speed_series(log);
    Ride ride = look_at(log, series);
    store_->keep_look({asked.path, {}}, ride);
    Looks looks{with_conditions(std::move(ride))};
    judge_or_keep(looks.front(), std::move(series));
    return looks;
  });
}

/// The same at a log in parts.
Attempt<Looks> Analyst::first_in_parts(const LogAsked& asked, const FoundConditions& found) {
  if (auto looks = remembered_parts(asked, found)) {
    return run_.splits.empty() ? Attempt<Looks>{std::move(*looks), ""} : second(std::move(*looks));
  }
  return attempt(asked.path, read_as_, streams_, [&](Log log) {
    return log.fixes.empty() ? looks_at(std::move(log), asked, found)
                             : remembering_looks_at(std::move(log), asked, found);
  });
}

Looks Analyst::looks_at(Log log, const LogAsked& asked, const FoundConditions& found) {
  Looks looks;
  for (LogPart& part : parted(std::move(log), asked.window, found, read_as_.part.zone)) {
    SpeedSeries series = speed_series(part.log);
    looks.push_back(look_of(look_at(part.log, series), std::move(part.stay), asked.side));
    judge_or_keep(looks.back(), std::move(series));
  }
  return looks;
}

/// The same of all of a log in parts, each of which is remembered by itself.
Looks Analyst::remembering_looks_at(Log log, const LogAsked& asked, const FoundConditions& found) {
  const LogSummary summary{extent_of(log), std::exchange(log.notes, {})};
  store_->keep_summary(asked.path, summary);
  Looks looks;
  for (Stay& stay : stays_of(summary.extent, found, read_as_.part.zone)) {
    const LogOrPart here{asked.path, stay.part};
    const Log part = part_of(log, stay.part->from, stay.part->until);
    if (part.fixes.empty()) {
      store_->keep_look(here, {});
      continue;
    }
    SpeedSeries series = speed_series(part);
    Ride ride = look_at(part, series);
    store_->keep_look(here, ride);
    looks.push_back(look_of(std::move(ride), std::move(stay), asked.side));
    looks.back().remember = true;
    judge_or_keep(looks.back(), std::move(series));
  }
  put_log_notes(looks, summary, found);
  return looks;
}

/// Nothing where one of them is not.
std::optional<Looks> Analyst::remembered_parts(const LogAsked& asked, const FoundConditions& found) const {
  const auto summary = store_->find_summary(asked.path);
  if (!summary) {
    return std::nullopt;
  }
  Looks looks;
  for (Stay& stay : stays_of(summary->extent, found, read_as_.part.zone)) {
    auto ride = store_->find_look({asked.path, stay.part});
    if (!ride) {
      return std::nullopt;
    }
    if (ride->fixes > 0) {
      looks.push_back(look_of(std::move(*ride), std::move(stay), asked.side));
      looks.back().remember = true;
    }
  }
  put_log_notes(looks, *summary, found);
  return looks.empty() ? std::nullopt : std::optional(std::move(looks));
}

/// Judges the starts where splits are asked; else keeps the series, as far as memory goes, for when they are.
void Analyst::judge_or_keep(Look& look, SpeedSeries series) {
  if (!run_.splits.empty()) {
    judge(look, std::move(series));
  } else if (look.ride.path == "-" || rows_.fetch_add(look.ride.fixes) < rows_kept_) {
    look.series = std::move(series);
  }
}

void Analyst::judge(Look& look, SpeedSeries series) const {
  const auto notes = static_cast<std::ptrdiff_t>(look.ride.notes.size());
  look.ride = with_runs(std::move(look.ride), std::move(series), run_);
  if (look.remember) {
    const Ride runs{.notes = {look.ride.notes.begin() + notes, look.ride.notes.end()},
                    .runs = look.ride.runs};
    store_->keep_runs({look.ride.path, look.ride.part}, run_, runs);
  }
}

/// True if the runs of all of them were remembered.
bool Analyst::take_remembered(Looks& looks) const {
  std::vector<Ride> all;
  for (const Look& look : looks) {
    auto runs = look.remember ? store_->find_runs({look.ride.path, look.ride.part}, run_) : std::nullopt;
    if (!runs) {
      return false;
    }
    all.push_back(std::move(*runs));
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    Ride& ride = looks[i].ride;
    ride.runs = std::move(all[i].runs);
    std::move(all[i].notes.begin(), all[i].notes.end(), std::back_inserter(ride.notes));
  }
  return true;
}

}  // namespace bothways::cli
