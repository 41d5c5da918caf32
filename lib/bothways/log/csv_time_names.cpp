#include "bothways/log/csv_names.hpp"
#include "bothways/log/csv_words.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace bothways {

namespace {

using Word = std::string_view;

constexpr std::array time_words = {Word("time"), Word("timestamp"), Word("t"), Word("datetime"), Word("utc")};
constexpr std::array loose_time_words = {
    Word("zeit"),    Word("uhrzeit"), Word("zeitstempel"), Word("heure"), Word("horodatage"),
    Word("temps"),   Word("hora"),    Word("tiempo"),      Word("ora"),   Word("tempo"),
    Word("seconds"), Word("millis"),  Word("elapsed")};
/// Times since a start; they stand for themselves, too.
constexpr std::array elapsed_words = {Word("elapsed"), Word("duration"), Word("dauer"),
                                      Word("duree"),   Word("duracion"), Word("durata")};
/// What may stand beside these.
constexpr std::array time_qualifiers = {Word("utc"),   Word("gmt"),   Word("unix"),
                                        Word("epoch"), Word("iso"),   Word("date"),
                                        Word("datum"), Word("fecha"), Word("data")};
/// Local Time, Datum und Uhrzeit, Date et heure, Fecha y hora, Data e ora, Time of day.
constexpr std::array loose_qualifiers = {Word("local"), Word("and"), Word("und"), Word("et"),
                                         Word("y"),     Word("e"),   Word("of"),  Word("day")};
/// How a clock is written: Time (hh:mm:ss), Elapsed (mm:ss.s).
constexpr std::array clock_parts = {Word("h"),  Word("hh"), Word("hhmmss"), Word("mm"),
                                    Word("ss"), Word("s"),  Word("sss"),    Word("ms")};

struct TimeUnitName {
  Word name;
  double us;
};
constexpr std::array time_units = {
    TimeUnitName{"s", 1e6},
    TimeUnitName{"sec", 1e6},
    TimeUnitName{"secs", 1e6},
    TimeUnitName{"second", 1e6},
    TimeUnitName{"seconds", 1e6},
    TimeUnitName{"sekunden", 1e6},
    TimeUnitName{"secondes", 1e6},
    TimeUnitName{"segundos", 1e6},
    TimeUnitName{"secondi", 1e6},
    TimeUnitName{"ms", 1e3},
    TimeUnitName{"msec", 1e3},
    TimeUnitName{"millis", 1e3},
    TimeUnitName{"milliseconds", 1e3},
    TimeUnitName{"us", 1.0},
    TimeUnitName{"usec", 1.0},
    TimeUnitName{"microseconds", 1.0},
    TimeUnitName{"ns", 1e-3},
    TimeUnitName{"nanoseconds", 1e-3},
    TimeUnitName{"min", 60e6},
    TimeUnitName{"mins", 60e6},
    TimeUnitName{"minutes", 60e6},
    TimeUnitName{"h", 3600e6},
    TimeUnitName{"hours", 3600e6},
};

const TimeUnitName* time_unit(Word word) {
  const auto* found = std::find_if(time_units.begin(), time_units.end(),
                                   [=](const TimeUnitName& unit) { return unit.name == word; });
  return found == time_units.end() ? nullptr : found;
}

bool shows_clock(const std::vector<Word>& words) {
  const bool beside = is_one_of("ss", words) || is_one_of("hh", words);  // else mm may be millimetres
  return (is_one_of("mm", words) && beside) || is_one_of("hhmmss", words);
}

bool stands_for_time(Word word, bool loose) {
  return is_one_of(word, time_words) ||
         (loose && (is_one_of(word, loose_time_words) || is_one_of(word, elapsed_words)));
}

bool stands_beside(Word word, bool loose, bool clock) {
  return is_one_of(word, time_qualifiers) || time_unit(word) != nullptr ||
         (loose && is_one_of(word, loose_qualifiers)) || (clock && is_one_of(word, clock_parts));
}

}  // namespace

bool is_time_name(std::string_view plain, Naming naming) {
  const auto words = words_of(plain);
  const bool loose = naming == Naming::loose;
  const bool clock = loose && shows_clock(words);
  bool named = naming == Naming::exact && plain.starts_with("unix_");
  for (const Word word : words) {
    const bool mine = stands_for_time(word, loose);
    if (!mine && !stands_beside(word, loose, clock)) {
      return false;
    }
    named = named || mine;
  }
  return named;
}

TimeName time_name(std::string_view plain) {
  TimeName said;
  const auto words = words_of(plain);
  for (const Word word : words) {
    if (const TimeUnitName* unit = time_unit(word); unit != nullptr && !shows_clock(words)) {
      said.unit_us = unit->us;
    }
    said.elapsed = said.elapsed || is_one_of(word, elapsed_words);
  }
  const bool has_hours = is_one_of("h", words) || is_one_of("hh", words) || is_one_of("hhmmss", words);
  said.minutes_first = said.elapsed || (shows_clock(words) && !has_hours);
  return said;
}

}  // namespace bothways
