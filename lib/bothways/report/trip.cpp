#include "bothways/report/trip.hpp"

#include "bothways/core/units.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>
#include <string>
#include <string_view>
#include <utility>

namespace bothways {

namespace {

constexpr std::size_t label_width = 22;
constexpr double least_half = 0.001;
constexpr double too_large = 1e9;  // no reading of a vehicle; all its digits would say nothing

/// Speeds, distances and heights in the units asked for.
struct TripUnits {
  bool metric = false;

  [[nodiscard]] std::string speed(const Estimate& v) const {
    return with_half(v, metric ? mps_per_kmh : mps_per_mph) + (metric ? " km/h" : " mph");
  }
  [[nodiscard]] std::string speed(double v_mps, int decimals) const {
    return fixed(v_mps / (metric ? mps_per_kmh : mps_per_mph), decimals) + (metric ? " km/h" : " mph");
  }
  [[nodiscard]] std::string distance(const Estimate& s) const {
    return is_short(s.value) ? height(s)
                             : with_half(s, metric ? 1000.0 : m_per_mile) + (metric ? " km" : " mi");
  }
  [[nodiscard]] std::string distance(double s_m) const {
    return is_short(s_m) ? height(s_m)
                         : fixed(s_m / (metric ? 1000.0 : m_per_mile), 2) + (metric ? " km" : " mi");
  }
  /// Metres and feet say more of it.
  [[nodiscard]] bool is_short(double s_m) const { return s_m < (metric ? 200.0 : 0.2 * m_per_mile); }
  [[nodiscard]] std::string height(const Estimate& h) const {
    return with_half(h, metric ? 1.0 : m_per_foot) + (metric ? " m" : " ft");
  }
  [[nodiscard]] std::string height(double h_m) const {
    return fixed(h_m / (metric ? 1.0 : m_per_foot), 0) + (metric ? " m" : " ft");
  }

  static std::string with_half(Estimate e, double factor) {
    for (double* figure : {&e.value, &e.sd, &e.lo95, &e.hi95}) {
      *figure /= factor;
    }
    if (e.sd > 0.0) {  // never "± 0.000" of a figure that has an uncertainty
      e.lo95 = std::min(e.lo95, e.value - least_half);
      e.hi95 = std::max(e.hi95, e.value + least_half);
    }
    return plus_minus(e);
  }
};

/// "1 h 02 min 05 s", "4 min 30 s", "12 s"
std::string duration_words(double s) {
  const auto whole = static_cast<long long>(std::llround(s));
  const auto two = [](long long n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  if (whole >= 3600) {
    return std::to_string(whole / 3600) + " h " + two(whole / 60 % 60) + " min";
  }
  return whole >= 60 ? std::to_string(whole / 60) + " min " + two(whole % 60) + " s"
                     : std::to_string(whole) + " s";
}

std::string share_words(double part, double whole) {
  return whole > 0.0 ? fixed(100.0 * part / whole, 0) + " %" : "0 %";
}

void write_line(std::ostream& out, std::string label, const std::string& text,
                const SummaryOptions& options) {
  label = "  " + label;
  label.resize(std::max(label_width + 2, label.size() + 1), ' ');
  out << wrapped(text, options.width, label, std::string(label_width + 2, ' ')) << '\n';
}

std::string distance_words(const Trip& trip, const TripUnits& units) {
  std::string text = trip.distance_m.value > 0.0 ? units.distance(trip.distance_m) : "none";
  if (trip.gaps_bridged > 0) {
    const std::string gaps = count_of(trip.gaps_bridged, "gap", "gaps");
    text += trip.bridged_m > 0.5 ? "; " + units.distance(trip.bridged_m) + " of it across " + gaps +
                                       ", as if ridden straight on"
                                 : "; standing still across " + gaps;
  }
  if (trip.gaps_open > 0) {
    text += "; nothing is counted across " + count_of(trip.gaps_open, "long gap", "long gaps") + " (" +
            duration_words(trip.unlogged_s) + ")";
  }
  return text;
}

void write_figures(std::ostream& out, const Trip& trip, const TripUnits& units,
                   const SummaryOptions& options) {
  write_line(out, "distance ridden", distance_words(trip, units), options);
  write_line(out, "time moving",
             duration_words(trip.moving_s) + " (faster than " + units.speed(trip.rest_mps, 1) + ")", options);
  write_line(out, "time stopped",
             duration_words(trip.stopped_s) + ", " + count_of(trip.stops, "stop", "stops") + " on the way",
             options);
  if (!(trip.distance_m.value > 0.0)) {
    return;
  }
  write_line(out, "average while moving", units.speed(trip.average_moving_mps(), 1), options);
  if (trip.sustained_1s_mps.value > 0.0) {
    write_line(
        out, "highest speed",
        units.speed(trip.sustained_1s_mps) + " held for 1 s" +
            (trip.sustained_5s_mps.value > 0.0 ? ", " + units.speed(trip.sustained_5s_mps) + " held for 5 s"
                                               : ""),
        options);
  }
  write_line(out, "stop and go",
             share_words(trip.town_m, trip.town_m + trip.open_m) + " of the way, as in a town: less than " +
                 (units.metric ? "1 km" : "0.6 mi") + " from one stop to the next; open road " +
                 share_words(trip.open_m, trip.town_m + trip.open_m),
             options);
  if (is_printable(trip.climb_m)) {
    write_line(
        out, "climb",
        units.height(trip.climb_m) + ", adding up rises of " + units.height(trip.climb_turn_m) + " and more",
        options);
  }
}

std::string figure_words(double value) {
  const double size = std::abs(value);
  if (size >= too_large) {
    return fmt::format("{:.3g}", value);
  }
  return fixed(value, size < 10.0 ? 2 : size < 1000.0 ? 1 : 0);
}

/// The unit that a column's name ends in, with a blank before it: " V" for battery_v. Empty if none is known.
std::string unit_words(const std::string& name) {
  static constexpr std::array<std::pair<std::string_view, const char*>, 12> units{{{"v", " V"},
                                                                                   {"mv", " mV"},
                                                                                   {"a", " A"},
                                                                                   {"w", " W"},
                                                                                   {"c", " °C"},
                                                                                   {"f", " °F"},
                                                                                   {"k", " K"},
                                                                                   {"percent", " %"},
                                                                                   {"rpm", " rpm"},
                                                                                   {"bar", " bar"},
                                                                                   {"kpa", " kPa"},
                                                                                   {"psi", " psi"}}};
  const std::size_t last = name.rfind('_');
  if (last == std::string::npos) {
    return "";
  }
  const std::string_view end = std::string_view(name).substr(last + 1);
  const auto* found =
      std::find_if(units.begin(), units.end(), [&](const auto& unit) { return unit.first == end; });
  return found == units.end() ? "" : found->second;
}

std::string spread_words(const ChannelSpread& spread, const char* state, const std::string& unit) {
  if (spread.n == 0) {
    return std::string("never ") + state;
  }
  return std::string(state) + " " + figure_words(spread.median) + unit + " (" + figure_words(spread.min) +
         " to " + figure_words(spread.max) + ")";
}

/// "-0.50 ± 0.12 V from beginning to end", and an hour where the log is long enough.
std::string drift_words(const ChannelSummary& channel, const std::string& unit) {
  const auto sign = [](double value) { return std::string(value > 0.0 ? "+" : ""); };
  std::string text = sign(channel.drift.value) +
                     (std::abs(channel.drift.value) + std::abs(channel.drift.sd) < too_large
                          ? plus_minus(channel.drift)
                          : figure_words(channel.drift.value) + " ± " +
                                figure_words(channel.drift.hi95 - channel.drift.value)) +
                     unit + " from beginning to end of the log";
  if (is_known(channel.drift_per_h)) {
    text += ", " + sign(channel.drift_per_h) + figure_words(channel.drift_per_h) + unit + " an hour";
  }
  return text;
}

void write_channels(std::ostream& out, const Trip& trip, const SummaryOptions& options) {
  for (const ChannelSummary& channel : trip.channels) {
    const std::string unit = unit_words(channel.name);
    std::string text = spread_words(channel.standing, "standing", unit) + "; " +
                       spread_words(channel.moving, "moving", unit);
    if (is_printable(channel.drift)) {
      text += "; " + drift_words(channel, unit);
    }
    write_line(out, escaped(channel.name), text, options);
  }
}

void write_fuel(std::ostream& out, const Consumption& fuel, const TripUnits& units,
                const SummaryOptions& options) {
  write_heading(out, "Fuel", options);
  write_line(out, "used",
             fixed(fuel.fuel_l, 2) + " L (" + fixed(fuel.fuel_l / l_per_us_gallon, 3) + " US gal, " +
                 fixed(fuel.fuel_l / l_per_imperial_gallon, 3) + " imperial gal) over " +
                 units.distance(fuel.distance_m),
             options);
  if (is_printable(fuel.l_per_100km)) {
    write_line(out, "consumption",
               plus_minus(fuel.l_per_100km) + " L/100 km; " + plus_minus(fuel.mpg_us) + " mpg (US); " +
                   plus_minus(fuel.mpg_imp) + " mpg (imperial)",
               options);
  }
  out << wrapped(fuel_words(fuel), options.width, "  ", "  ") << '\n';
}

std::string head_words(const Trip& trip, const SummaryOptions& options) {
  const std::string name = trip.path == "-" ? "Standard input" : escaped(trip.path);
  if (!trip.dated) {
    return name + ", " + time_of_day(trip.first) + " to " + time_of_day(trip.last) +
           ", the day is not in the log";
  }
  const std::string day = date_words(trip.first);
  const std::string last_day = date_words(trip.last);
  return name + ", " + day + " " + time_of_day(trip.first) + " to " +
         (day == last_day ? "" : last_day + " ") + time_of_day(trip.last) + " UTC" +
         local_span(trip.first, trip.last, true, options);
}

}  // namespace

std::string fuel_words(const Consumption& fuel) {
  constexpr double fill_l = 0.2;  // from one filling to the next; common practice, no source
  if (!is_printable(fuel.l_per_100km)) {
    return "No consumption figure: over less than " + fixed(least_consumption_m / 1000.0, 0) + " km (" +
           fixed(least_consumption_m / m_per_mile, 0) +
           " mi), how full the tank was filled matters more than the ride. Add the other logs since the last "
           "filling.";
  }
  return "The ± is that of the distance. A tank filled " + fixed(fill_l, 1) + " L (" +
         fixed(fill_l / l_per_us_gallon, 2) +
         " US gal) more or less full than the last time moves these figures by " +
         fixed(std::max(1.0, 100.0 * fill_l / fuel.fuel_l), 0) + " %.";
}

void write_trip(std::ostream& out, const TripResult& result, const SummaryOptions& options) {
  const TripUnits units{result.metric};
  bool first = true;
  for (const Trip& trip : result.trips) {
    out << (first ? "" : "\n") << wrapped(head_words(trip, options), options.width, "", "  ") << '\n';
    first = false;
    if (trip.readings > 1) {
      write_figures(out, trip, units, options);
      write_channels(out, trip, options);
    }
    for (const Note& note : trip.notes) {
      if (!options.quiet || note.code == "no-speed" || is_warning(note.code)) {
        out << wrapped(escaped(note.text), options.width, "  ", "  ") << '\n';
      }
    }
  }
  if (result.trips.size() > 1) {
    write_heading(out, "All " + std::to_string(result.trips.size()) + " logs", options);
    write_figures(out, all_of(result.trips), units, options);
  }
  if (result.consumption) {
    write_fuel(out, *result.consumption, units, options);
  }
}

}  // namespace bothways
