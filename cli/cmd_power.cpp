#include "bothways/core/conditions.hpp"
#include "bothways/core/units.hpp"
#include "bothways/pair/power.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/power.hpp"
#include "cli/comparing.hpp"
#include "cli/conditions.hpp"
#include "cli/folder.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/pipeline_commands.hpp"
#include "cli/say.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <optional>
#include <ostream>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

/// A figure or a range of the command line; nothing if it was not given.
std::optional<Range> range_of(const po::variables_map& values, const char* name, Dimension dimension,
                              Range allowed, const char* remedy) {
  if (values.count(name) == 0) {
    return std::nullopt;
  }
  const auto& text = values[name].as<std::string>();
  Range range;
  try {
    range = parse_quantity_range(text, dimension);
  } catch (const std::invalid_argument& error) {
    throw UsageError("--" + std::string(name) + ": " + error.what());
  }
  if (!(range.lo >= allowed.lo && range.hi <= allowed.hi)) {
    throw UsageError("--" + std::string(name) + ": '" + text + "' cannot be; " + remedy);
  }
  return range;
}

/// What the command line gave; nothing of it touches a file.
struct Given {
  std::optional<Range> mass_kg;
  std::optional<Range> drag_area_m2;
  std::optional<Range> rolling;
};

Given parse_given(const po::variables_map& values) {
  return {range_of(values, "mass", Dimension::mass, {20.0, 5000.0},
                   "vehicle and rider together have 20 to 5000 kg (44 to 11000 lb)"),
          range_of(values, "drag-area", Dimension::area, {0.05, 5.0}, "it goes from 0.05 to 5 m2"),
          range_of(values, "rolling", Dimension::ratio, {0.001, 0.2}, "it goes from 0.001 to 0.2")};
}

void take_mass(const Result& result, const Given& given, PowerResult& power) {
  if (given.mass_kg) {
    power.power.load.mass_kg = *given.mass_kg;
    power.mass_from = "--mass";
    return;
  }
  std::optional<Range> mass;
  for (const Ride& ride : result.rides) {
    if (ride.conditions && ride.conditions->total_mass_kg) {
      const double kg = *ride.conditions->total_mass_kg;
      mass = mass ? Range{std::min(mass->lo, kg), std::max(mass->hi, kg)} : Range{kg, kg};
      power.mass_from = ride.conditions->file;
    }
  }
  power.power.load.mass_kg = mass.value_or(power.power.load.mass_kg);
}

void take_air(const Result& result, PowerResult& power) {
  power.air_from = "usual air, since the conditions do not say";
  power.wind_from = "not given in the conditions; out and back taken together, most of it cancels";
  bool air = false;
  bool wind = false;
  for (const Ride& ride : result.rides) {
    if (!ride.conditions) {
      continue;
    }
    if (const auto density = air_density_of(*ride.conditions); density && !air) {
      power.power.load.air_kg_m3 = *density;
      power.air_from = ride.conditions->file;
      air = true;
    }
    if (ride.conditions->wind_mps && !wind) {
      power.power.load.wind_mps = *ride.conditions->wind_mps;
      power.wind_from = ride.conditions->file;
      wind = true;
    }
  }
}

PowerResult prepared(const Result& result, const Given& given) {
  const char* const typical = "typical of two-wheelers with a rider, from books; give --";
  PowerResult power;
  power.metric = result.metric;
  if (const std::string mixed = mixed_setups_words(result); !mixed.empty()) {
    power.notes.push_back({"mixed-setups", mixed, 0});
  }
  const auto warnings = notes_by_kind(pointers_to(result.rides), true);
  power.notes.insert(power.notes.end(), warnings.begin(), warnings.end());
  take_mass(result, given, power);
  take_air(result, power);
  power.drag_from = given.drag_area_m2 ? "--drag-area" : std::string(typical) + "drag-area if known";
  power.rolling_from = given.rolling ? "--rolling" : std::string(typical) + "rolling if known";
  RoadLoad& load = power.power.load;
  load.drag_area_m2 = given.drag_area_m2.value_or(load.drag_area_m2);
  load.rolling = given.rolling.value_or(load.rolling);
  return power;
}

std::vector<double> speeds_mps(bool metric) {
  std::vector<double> speeds;
  const double step_mps = metric ? 10.0 * mps_per_kmh : 5.0 * mps_per_mph;
  for (int i = 1; i <= 40; ++i) {
    speeds.push_back(step_mps * i);
  }
  return speeds;
}

void write_result(std::ostream& out, const PowerResult& power, const OutputOptions& output,
                  const Streams& streams) {
  if (output.format == Format::json) {
    write_power_json(out, power);
  } else if (output.format != Format::text) {
    write_table(out, power_table(power), output.format, "", output.dialect);
  } else if (!power.power.rows.empty()) {
    write_power(out, power, text_options(output, streams));
  }
}

}  // namespace

void add_load_options(po::options_description& options) {
  auto add = options.add_options();
  const auto word = [](const char* name) { return po::value<std::string>()->value_name(name); };
  add("mass", word("MASS"),
      "vehicle, rider, fuel and load together, 200kg; default: total_mass of the conditions");
  add("drag-area", word("AREA"), "drag area, 0.55m2 or 0.5-0.6m2; default: 0.40 to 0.70 m2");
  add("rolling", word("SHARE"), "rolling resistance as a share of the weight; default: 0.015 to 0.025");
}

po::options_description power_options() {
  po::options_description options;
  add_load_options(options);
  add_conditions_option(options);
  add_units_option(options);
  add_output_options(options);
  add_input_options(options);
  return options;
}

PowerResult power_of_result(const Result& result, const po::variables_map& values) {
  PowerResult power = prepared(result, parse_given(values));
  power.power = road_power(result.rides, result.pairs, power.power.load, speeds_mps(result.metric));
  return power;
}

Exit run_power(const po::variables_map& values, const Streams& streams) {
  const AnalysisOptions analysis_options = parse_analysis(values, streams);
  const OutputOptions output = parse_output(values);
  (void)parse_given(values);  // a wrong option before any log is read
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  const Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  const Result& result = analysis.result;
  const PowerResult power = power_of_result(result, values);
  if (power.mass_from.empty()) {
    throw UsageError(
        "power needs the mass of vehicle and rider together: give --mass 200kg, or total_mass in "
        "conditions.ini");
  }
  write_output(output, streams, [&](std::ostream& out) { write_result(out, power, output, streams); });
  const Exit code = conclude(inputs, analysis, streams);
  if (code == Exit::ok && power.power.rows.empty()) {
    say(streams, "bothways",
        "no pair of runs out and back, so slope cannot be told from power; ride both ways");
    return Exit::nothing_found;
  }
  return code;
}

}  // namespace bothways::cli
