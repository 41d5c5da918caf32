#include "bothways/report/trip.hpp"

#include "bothways/core/units.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>

namespace bothways {

namespace {

constexpr std::size_t label_width = 22;

/// Speeds, distances and heights in the units asked for.
struct Units {
  bool metric = false;

  [[nodiscard]] std::string speed(const Estimate& v) const {
    return with_half(v, metric ? mps_per_kmh : mps_per_mph) + (metric ? " km/h" : " mph");
  }
  [[nodiscard]] std::string speed(double v_mps, int decimals) const {
    return fixed(v_mps / (metric ? mps_per_kmh : mps_per_mph), decimals) + (metric ? " km/h" : " mph");
  }
  [[nodiscard]] std::string distance(const Estimate& s) const {
    return with_half(s, metric ? 1000.0 : m_per_mile) + (metric ? " km" : " mi");
  }
  [[nodiscard]] std::string distance(double s_m) const {
    return fixed(s_m / (metric ? 1000.0 : m_per_mile), 2) + (metric ? " km" : " mi");
  }
  [[nodiscard]] std::string height(double h_m) const {
    return fixed(h_m / (metric ? 1.0 : m_per_foot), 0) + (metric ? " m" : " ft");
  }

  static std::string with_half(Estimate e, double factor) {
    for (double* figure : {&e.value, &e.sd, &e.lo95, &e.hi95}) {
      *figure /= factor;
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

std::string distance_words(const Trip& trip, const Units& units) {
  std::string text = units.distance(trip.distance_m);
  if (trip.gaps_bridged > 0) {
    text += "; " + units.distance(trip.bridged_m) + " of it across " +
            count_of(trip.gaps_bridged, "gap", "gaps") + ", as if ridden straight on";
  }
  if (trip.gaps_open > 0) {
    text += "; nothing is counted across " + count_of(trip.gaps_open, "long gap", "long gaps") + " (" +
            duration_words(trip.unlogged_s) + ")";
  }
  return text;
}

void write_figures(std::ostream& out, const Trip& trip, const Units& units, const SummaryOptions& options) {
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
  write_line(out, "town-like",
             share_words(trip.town_m, trip.town_m + trip.open_m) +
                 " of the road: between two stops less than " + (units.metric ? "1 km" : "0.6 mi (1 km)") +
                 " apart; open road " + share_words(trip.open_m, trip.town_m + trip.open_m),
             options);
  if (is_known(trip.climb_m)) {
    write_line(
        out, "climb",
        units.height(trip.climb_m) + ", rises of " + units.height(trip.climb_turn_m) + " and more counted",
        options);
  }
}

std::string figure_words(double value) {
  const double size = std::abs(value);
  return fixed(value, size < 10.0 ? 2 : size < 1000.0 ? 1 : 0);
}

std::string spread_words(const ChannelSpread& spread, const char* state) {
  if (spread.n == 0) {
    return std::string("never ") + state;
  }
  return std::string(state) + " " + figure_words(spread.median) + " (" + figure_words(spread.min) + " to " +
         figure_words(spread.max) + ")";
}

void write_channels(std::ostream& out, const Trip& trip, const SummaryOptions& options) {
  for (const ChannelSummary& channel : trip.channels) {
    std::string text =
        spread_words(channel.standing, "standing") + "; " + spread_words(channel.moving, "moving");
    if (is_known(channel.drift_per_h)) {
      text += "; drift " + std::string(channel.drift_per_h > 0.0 ? "+" : "") +
              figure_words(channel.drift_per_h) + " an hour";
    }
    write_line(out, escaped(channel.name), text, options);
  }
}

void write_fuel(std::ostream& out, const Consumption& fuel, const Units& units,
                const SummaryOptions& options) {
  write_heading(out, "Fuel", options);
  write_line(out, "used",
             fixed(fuel.fuel_l, 2) + " L (" + fixed(fuel.fuel_l / l_per_us_gallon, 3) + " US gal, " +
                 fixed(fuel.fuel_l / l_per_imperial_gallon, 3) + " imperial gal) over " +
                 units.distance(fuel.distance_m),
             options);
  write_line(out, "consumption",
             plus_minus(fuel.l_per_100km) + " L/100 km; " + plus_minus(fuel.mpg_us) + " mpg (US); " +
                 plus_minus(fuel.mpg_imp) + " mpg (imperial)",
             options);
  out << wrapped("The ± is that of the distance; how full the tank was each time is not in it.",
                 options.width, "  ", "  ")
      << '\n';
}

std::string head_words(const Trip& trip) {
  const std::string name = trip.path == "-" ? "Standard input" : escaped(trip.path);
  if (!trip.dated) {
    return name + ", " + time_of_day(trip.first) + " to " + time_of_day(trip.last) +
           ", the day is not in the log";
  }
  const std::string day = date_words(trip.first);
  const std::string last_day = date_words(trip.last);
  return name + ", " + day + " " + time_of_day(trip.first) + " to " +
         (day == last_day ? "" : last_day + " ") + time_of_day(trip.last) + " UTC";
}

}  // namespace

void write_trip(std::ostream& out, const TripResult& result, const SummaryOptions& options) {
  const Units units{result.metric};
  bool first = true;
  for (const Trip& trip : result.trips) {
    out << (first ? "" : "\n") << wrapped(head_words(trip), options.width, "", "  ") << '\n';
    first = false;
    if (trip.readings > 1) {
      write_figures(out, trip, units, options);
      write_channels(out, trip, options);
    }
    for (const Note& note : trip.notes) {
      if (!options.quiet || note.code == "no-speed") {
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
