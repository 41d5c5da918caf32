#include "bothways/core/quantity.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/trip.hpp"
#include "bothways/run/same_ride.hpp"
#include "bothways/speed/derive.hpp"
#include "bothways/trip/trip.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/parallel.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <optional>
#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

constexpr double least_fuel_l = 0.01;
constexpr double most_fuel_l = 1000.0;

struct Made {
  Trip trip;
  Trace trace;
};

/// The value of an option as a figure with its unit, in SI; nothing if it was not given.
std::optional<double> quantity_of(const po::variables_map& values, const char* name, Dimension dimension,
                                  Range allowed) {
  if (values.count(name) == 0) {
    return std::nullopt;
  }
  const auto& text = values[name].as<std::string>();
  double value = 0.0;
  try {
    value = parse_quantity(text, dimension);
  } catch (const std::invalid_argument& error) {
    throw UsageError("--" + std::string(name) + ": " + error.what());
  }
  if (!(value >= allowed.lo && value <= allowed.hi)) {
    throw UsageError("--" + std::string(name) + ": '" + text + "' is more or less than anyone rides on");
  }
  return value;
}

Made made_of(const Log& log) {
  const SpeedSeries series = speed_series(log);
  Made made{trip_of(log, series), trace_of(log, series.source)};
  made.trip.notes.insert(made.trip.notes.begin(), log.notes.begin(), log.notes.end());
  return made;
}

/// The trips of the logs that were read, each ride once; what could not be read in `troubles`.
std::vector<Trip> trips_of(std::vector<Attempt<Made>>& attempts, Troubles& troubles) {
  std::vector<Trip> read;
  std::vector<Trace> traces;
  for (Attempt<Made>& attempt : attempts) {
    if (attempt.made) {
      read.push_back(std::move(attempt.made->trip));
      traces.push_back(std::move(attempt.made->trace));
    } else {
      troubles.take(std::move(attempt));
    }
  }
  std::vector<bool> out(read.size(), false);
  for (const SameRide& same : same_rides(traces, Better::distance)) {  // from the best log down
    if (!out[same.worse] && !out[same.better]) {
      out[same.worse] = true;
      read[same.better].notes.push_back(same_ride_note(traces[same.worse], traces[same.better]));
    }
  }
  std::vector<Trip> trips;
  for (std::size_t i = 0; i < read.size(); ++i) {
    if (!out[i]) {
      trips.push_back(std::move(read[i]));
    }
  }
  return trips;
}

/// Fuel over the distance to the fill: all of it, or as far as was said.
Consumption used(double fuel_l, const std::optional<double>& at_m, const Estimate& ridden_m) {
  if (!at_m) {
    return consumption_of(fuel_l, ridden_m);
  }
  constexpr double rounding_m = 100.0;  // people round what they read
  if (*at_m > ridden_m.hi95 + rounding_m) {
    throw UsageError("--at-distance is beyond the end of the ride, which is " +
                     std::to_string(static_cast<long long>(ridden_m.value)) + " m long");
  }
  Estimate distance = ridden_m;
  const double share = *at_m / ridden_m.value;
  for (double* figure : {&distance.value, &distance.sd, &distance.lo95, &distance.hi95}) {
    *figure *= share;
  }
  return consumption_of(fuel_l, distance);
}

void write_result(std::ostream& out, const TripResult& result, const OutputOptions& output,
                  const Streams& streams) {
  switch (output.format) {
    case Format::text:
      write_trip(out, result, text_options(output, streams));
      break;
    case Format::csv:
      write_csv(out, trip_table(result), true, output.dialect);
      break;
    case Format::json:
      write_trip_json(out, result);
      break;
    case Format::jsonl:
      write_trip_jsonl(out, result);
      break;
  }
}

}  // namespace

po::options_description trip_options() {
  po::options_description options;
  auto add = options.add_options();
  add("fuel", po::value<std::string>()->value_name("AMOUNT"),
      R"(what was filled up after the ride, with its unit: 3.4L, "1.2 US gal", "1.2 imp gal")");
  add("at-distance", po::value<std::string>()->value_name("DISTANCE"),
      R"(the tank was filled after this much of the ride, "31 mi"; default: at its end)");
  add_units_option(options);
  add_output_options(options);
  options.add_options()("quiet", po::bool_switch(), "leave out the notes");
  add_input_options(options);
  return options;
}

Exit run_trip(const po::variables_map& values, const Streams& streams) {
  const OutputOptions output = parse_output(values);
  const unsigned jobs = parse_jobs(values);
  const ReadAs read_as = parse_reading(values, streams);
  TripResult result{.trips = {}, .consumption = {}, .metric = parse_metric(values, streams)};
  const auto fuel_l = quantity_of(values, "fuel", Dimension::volume, {least_fuel_l, most_fuel_l});
  const auto at_m = quantity_of(values, "at-distance", Dimension::length, {1.0, 1e7});
  if (at_m && !fuel_l) {
    throw UsageError("--at-distance goes with --fuel");
  }
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  std::vector<Attempt<Made>> attempts(inputs.files.size());
  for_each_log(attempts.size(), jobs, streams,
               [&](std::size_t i) { attempts[i] = attempt(inputs.files[i], read_as, streams, made_of); });
  Troubles troubles;
  result.trips = trips_of(attempts, troubles);
  const Trip all = all_of(result.trips);
  if (fuel_l && all.distance_m.value > 0.0) {
    result.consumption = used(*fuel_l, at_m, all.distance_m);
  }
  write_output(output, streams, [&](std::ostream& out) { write_result(out, result, output, streams); });
  const Exit reading = conclude_reading(inputs, troubles, result.trips.size(), streams);
  return reading == Exit::ok && all.readings < 2 ? Exit::nothing_found : reading;
}

}  // namespace bothways::cli
