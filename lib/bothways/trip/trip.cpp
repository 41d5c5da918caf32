#include "bothways/trip/trip.hpp"

#include "bothways/core/units.hpp"
#include "bothways/trip/channels.hpp"
#include "bothways/trip/climb.hpp"
#include "bothways/trip/samples.hpp"
#include "bothways/trip/sustained.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double open_road_m = 1000.0;  // without a stop; common practice, no source
constexpr double scale_sd = 0.002;  // of the distance: what no noise accounts for; common practice, no source
constexpr double bridge_sd = 0.15;  // of a bridged distance: bends; common practice, no source
constexpr double least_stop_s = 3.0;
constexpr double least_bridge_m = 30.0;   // less may be the receiver's wandering ...
constexpr double least_bridge_mps = 1.0;  // ... if it is slow, too

/// Standing from one ride to the next, and the road between two such stops.
class Legs {
 public:
  explicit Legs(Trip& trip) : trip_(&trip) {}

  void ride(double travel_m) {
    leg_m_ += travel_m;
    if (stood_s_ >= least_stop_s && ridden_) {
      ++trip_->stops;
    }
    stood_s_ = 0.0;
    ridden_ = true;
  }
  void stand(double duration_s) {
    stood_s_ += duration_s;
    if (stood_s_ >= least_stop_s) {
      end();
    }
  }
  void end() {
    (leg_m_ >= open_road_m ? trip_->open_m : trip_->town_m) += leg_m_;
    leg_m_ = 0.0;
  }

 private:
  Trip* trip_;
  double leg_m_ = 0.0;
  double stood_s_ = 0.0;
  bool ridden_ = false;
};

/// Ordinary riding and standing; gaps are left for later.
void add_up(const ValidSamples& samples, Trip& trip) {
  Legs legs(trip);
  for (std::size_t i = 0; i + 1 < samples.rows.size(); ++i) {
    const double dt = samples.rows[i + 1].t_s - samples.rows[i].t_s;
    const double travel_m = samples.travel_m[i];
    // Half a step of getting away or stopping is travel, but not worth a state of its own.
    bool moves = samples.moving[i] != 0 || samples.moving[i + 1] != 0;
    if (samples.between[i] == Between::open) {
      ++trip.gaps_open;
      trip.unlogged_s += dt;
      legs.end();
      continue;
    }
    if (samples.between[i] == Between::bridged) {
      moves = travel_m > least_bridge_m || travel_m > least_bridge_mps * dt;
      ++trip.gaps_bridged;
      trip.bridged_m += moves ? travel_m : 0.0;
    }
    if (moves) {
      trip.distance_m.value += travel_m;
      trip.moving_s += samples.between[i] == Between::ride ? dt : 0.0;
      legs.ride(travel_m);
    } else {
      trip.stopped_s += dt;
      legs.stand(dt);
    }
  }
  legs.end();
}

/// In a gap the vehicle is taken to have moved at its average speed, and to have stood for the rest.
void share_out_gaps(const ValidSamples& samples, Trip& trip) {
  const double plain_m = trip.distance_m.value - trip.bridged_m;
  const double average_mps = trip.moving_s > 0.0 ? plain_m / trip.moving_s : 0.0;
  for (std::size_t i = 0; i + 1 < samples.rows.size(); ++i) {
    const double dt = samples.rows[i + 1].t_s - samples.rows[i].t_s;
    const double travel_m = samples.travel_m[i];
    if (samples.between[i] == Between::bridged &&
        (travel_m > least_bridge_m || travel_m > least_bridge_mps * dt)) {
      const double moving_s = average_mps > 0.0 ? std::min(dt, travel_m / average_mps) : dt;
      trip.moving_s += moving_s;
      trip.stopped_s += dt - moving_s;
    }
  }
}

Estimate not_negative(double distance_m, double sd_m) {
  Estimate estimate = normal_estimate(distance_m, sd_m);
  estimate.lo95 = std::max(0.0, estimate.lo95);
  return estimate;
}

double distance_sd_m(const Trip& trip, const Receiver& receiver) {
  const double slow_m = receiver.slow_sd_mps * std::sqrt(2.0 * receiver.slow_time_s * trip.moving_s);
  const double white_m = receiver.white_sd_mps * std::sqrt(trip.moving_s / std::max(receiver.rate_hz, 1e-3));
  // Speed from positions: its errors add up to no more than those of the places at the ends of each leg.
  const double places_m = std::hypot(receiver.position_drift_sd_m, receiver.position_white_sd_m) *
                          std::sqrt(2.0 * static_cast<double>(trip.stops + 1));
  const double noise_m = trip.source == SpeedSource::positions ? places_m : std::hypot(slow_m, white_m);
  return std::hypot(std::hypot(noise_m, bridge_sd * trip.bridged_m), scale_sd * trip.distance_m.value);
}

}  // namespace

Trip trip_of(const Log& log, const SpeedSeries& series) {
  Trip trip{.path = log.path, .dated = log.dated, .source = series.source};
  if (!log.fixes.empty()) {
    trip.first = log.fixes.front().time;
    trip.last = log.fixes.back().time;
  }
  const ValidSamples samples = valid_samples(series);
  trip.readings = samples.rows.size();
  trip.rest_mps = series.rest_mps;
  if (samples.rows.size() < 2) {
    trip.notes.push_back({"no-speed", "The log has neither speeds nor positions that could be added up.", 0});
    return trip;
  }
  if (series.outliers > 0) {
    trip.notes.push_back(
        {"wild-speed",
         fmt::format("{} speed reading{} that no vehicle could have reached {} left out.", series.outliers,
                     series.outliers == 1 ? "" : "s", series.outliers == 1 ? "was" : "were"),
         0});
  }
  add_up(samples, trip);
  share_out_gaps(samples, trip);
  trip.distance_m = not_negative(trip.distance_m.value, distance_sd_m(trip, series.receiver));
  trip.sustained_1s_mps = sustained_mps(series, samples, 1.0);
  trip.sustained_5s_mps = sustained_mps(series, samples, 5.0);
  const Climb climb = climb_of(series, samples);
  trip.climb_m = climb.climb_m;
  trip.climb_turn_m = climb.turn_m;
  if (!climb.why_not.empty()) {
    trip.notes.push_back(
        {"unsteady-heights",
         "No climb is told: " + climb.why_not + ", as they do where high houses or trees hide satellites.",
         0});
  }
  trip.channels = summarise_channels(log, series, samples);
  return trip;
}

namespace {

/// The sum of the climbs, if all have one. Their errors are alike in kind, so the half-intervals add up.
void add_climbs(std::span<const Trip> trips, Trip& all) {
  const auto has_climb = [](const Trip& trip) { return is_known(trip.climb_m.value); };
  if (trips.empty() || !std::all_of(trips.begin(), trips.end(), has_climb)) {
    return;
  }
  all.climb_m = {};
  for (const Trip& trip : trips) {
    all.climb_turn_m = std::max(all.climb_turn_m, trip.climb_turn_m);
    all.climb_m.value += trip.climb_m.value;
    all.climb_m.sd += trip.climb_m.sd;
    all.climb_m.lo95 += trip.climb_m.lo95;
    all.climb_m.hi95 += trip.climb_m.hi95;
  }
}

}  // namespace

Trip all_of(std::span<const Trip> trips) {
  Trip all;
  double variance = 0.0;
  const auto higher = [](const Estimate& a, const Estimate& b) { return a.value < b.value ? b : a; };
  for (const Trip& trip : trips) {
    const bool first = all.readings == 0;
    all.first = first ? trip.first : std::min(all.first, trip.first);
    all.last = first ? trip.last : std::max(all.last, trip.last);
    all.dated = all.dated && trip.dated;
    all.readings += trip.readings;
    all.distance_m.value += trip.distance_m.value;
    variance += trip.distance_m.sd * trip.distance_m.sd;
    all.bridged_m += trip.bridged_m;
    all.gaps_bridged += trip.gaps_bridged;
    all.gaps_open += trip.gaps_open;
    all.moving_s += trip.moving_s;
    all.stopped_s += trip.stopped_s;
    all.unlogged_s += trip.unlogged_s;
    all.stops += trip.stops;
    all.rest_mps = std::max(all.rest_mps, trip.rest_mps);
    all.sustained_1s_mps = higher(all.sustained_1s_mps, trip.sustained_1s_mps);
    all.sustained_5s_mps = higher(all.sustained_5s_mps, trip.sustained_5s_mps);
    all.town_m += trip.town_m;
    all.open_m += trip.open_m;
  }
  add_climbs(trips, all);
  all.distance_m = not_negative(all.distance_m.value, std::sqrt(variance));
  return all;
}

Consumption consumption_of(double fuel_l, const Estimate& distance_m) {
  if (!(fuel_l > 0.0) || !(distance_m.value > 0.0) || !std::isfinite(fuel_l)) {
    throw std::invalid_argument("fuel and distance must be above 0");
  }
  if (distance_m.value < least_consumption_m) {
    const Estimate none{unknown, unknown, unknown, unknown};
    return {fuel_l, distance_m.value, none, none, none};
  }
  const double relative = distance_m.sd / distance_m.value;
  const auto made = [relative](double value) { return normal_estimate(value, value * relative); };
  const double miles = distance_m.value / m_per_mile;
  return {fuel_l, distance_m.value, made(fuel_l / distance_m.value * 100'000.0),
          made(miles / (fuel_l / l_per_us_gallon)), made(miles / (fuel_l / l_per_imperial_gallon))};
}

}  // namespace bothways
