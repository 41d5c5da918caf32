#include "bothways/pair/compare.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/planned.hpp"
#include "bothways/report/words.hpp"
#include "cli/amount.hpp"
#include "cli/compare_commands.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/pipeline.hpp"
#include "cli/say.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <initializer_list>
#include <optional>
#include <ostream>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

struct PlanAsked {
  Amount detect;
  std::optional<Amount> scatter;
  PlanOptions options;
};

std::string text_of(const po::variables_map& values, const char* name) {
  return values.count(name) > 0 ? values[name].as<std::string>() : "";
}

PlanAsked parse_plan(const po::variables_map& values) {
  if (values.count("detect") == 0) {
    throw UsageError("say which difference you want to see: --detect 0.2s");
  }
  PlanAsked asked{.detect = parse_amount(text_of(values, "detect"), "--detect")};
  if (values.count("power") > 0) {
    asked.options.power = parse_chance(text_of(values, "power"), "--power");
  }
  if (values.count("level") > 0) {
    asked.options.level = parse_chance(text_of(values, "level"), "--level");
  }
  if (asked.options.level >= 0.5 || asked.options.power <= asked.options.level) {
    throw UsageError("--level is below 0.5, and --power above --level");
  }
  const bool has_logs = values.count("path") > 0;
  if ((values.count("scatter") > 0) == has_logs) {
    throw UsageError(has_logs
                         ? "the scatter comes from --scatter or from logs, not from both"
                         : "say how much two-way results of one set-up scatter, --scatter 0.15s, or name "
                           "logs of one set-up that show it");
  }
  if (!has_logs) {
    asked.scatter = parse_amount(text_of(values, "scatter"), "--scatter");
    if (asked.scatter->percent != asked.detect.percent) {
      throw UsageError("--detect and --scatter take the same kind of unit, both a time or both %");
    }
  }
  return asked;
}

/// Several logs, of which not all tell the set-up they were ridden with.
bool takes_for_one_setup(const std::vector<Ride>& rides) {
  const auto has_runs = [](const Ride& ride) { return !ride.runs.accepted.empty(); };
  return std::count_if(rides.begin(), rides.end(), has_runs) > 1 &&
         std::any_of(rides.begin(), rides.end(), [&](const Ride& ride) {
           return has_runs(ride) && !(ride.conditions && !ride.conditions->setup.empty());
         });
}

PlannedSplit planned_split(const SplitSpec& spec, const PlanBasis& basis, double time_s,
                           const PlanAsked& asked) {
  const double detect_s = asked.detect.percent ? asked.detect.value / 100.0 * time_s : asked.detect.value;
  PlannedSplit split{.name = spec.name,
                     .plan = plan_pairs(detect_s, basis, Ridden::blocks, asked.options),
                     .from_pairs = basis.pairs,
                     .setups = basis.setups,
                     .assumed = basis.assumed};
  for (const int n : usual_numbers_of_pairs()) {
    const Telling telling = telling_of(basis, n, Ridden::blocks, asked.options.level);
    split.shown.push_back({n, difference_told(telling, asked.options.power)});
  }
  return split;
}

/// The same from a scatter that the user names.
PlannedSplit planned_split(const PlanAsked& asked) {
  PlannedSplit split{.plan = plan_pairs(asked.detect.value, asked.scatter->value, asked.options)};
  for (const int n : usual_numbers_of_pairs()) {
    split.shown.push_back({n, effect_seen(n, asked.options) * asked.scatter->value});
  }
  return split;
}

/// The scatter that the pairs of these logs show, split by split.
Planned planned_from(const Analysis& analysis, const PlanAsked& asked) {
  Planned planned{.options = asked.options};
  const Result& result = analysis.result;
  if (takes_for_one_setup(result.rides)) {
    planned.notes.push_back(
        {"one-setup-assumed",
         "these logs are taken to be of one set-up. If a change lies between them it counts as scatter: plan "
         "with the logs of one set-up, or name each in conditions.ini (setup = ...).",
         0});
  }
  const auto warnings = notes_by_kind(pointers_to(result.rides), true);
  planned.notes.insert(planned.notes.end(), warnings.begin(), warnings.end());
  const Side side{.name = "", .rides = result.rides, .pairs = result.pairs};
  for (const Overall& row : result.overall) {
    const PlanBasis basis = plan_basis(side, row.spec, {.clock = result.clock});
    if (basis.pairs > 0) {
      const double time_s = chosen(row, result.clock).value;
      planned.splits.push_back(planned_split(row.spec, basis, time_s, asked));
    }
  }
  return planned;
}

void write(std::ostream& out, const Planned& planned, const OutputOptions& output, const Streams& streams) {
  if (planned.splits.empty() && output.format != Format::csv) {
    return;
  }
  switch (output.format) {
    case Format::text:
      write_planned(out, planned, text_options(output, streams));
      break;
    case Format::csv:
      write_csv(out, plans_table(planned), true, output.dialect);
      break;
    case Format::json:
      write_planned_json(out, planned);
      break;
    case Format::jsonl:
      write_planned_jsonl(out, planned);
      break;
  }
}

Exit plan_from_logs(const po::variables_map& values, const PlanAsked& asked, const OutputOptions& output,
                    const Streams& streams) {
  const AnalysisOptions analysis_options = parse_analysis(values, streams);
  const unsigned jobs = parse_jobs(values);
  const Inputs inputs = find_inputs(parse_paths(values));
  refuse_to_overwrite(output, inputs.files);
  const Analysis analysis = analyse_all(inputs.files, analysis_options, jobs, streams);
  const Planned planned = planned_from(analysis, asked);
  write_output(output, streams, [&](std::ostream& out) { write(out, planned, output, streams); });
  const Exit reading = conclude(inputs, analysis, streams);
  if (!planned.splits.empty() || count_runs(analysis.result.rides) == 0) {
    return reading;
  }
  say(streams, "bothways",
      "no pair out and back in these logs, so their scatter cannot be seen; ride both ways, or give "
      "--scatter");
  return reading == Exit::ok ? Exit::nothing_found : reading;
}

/// The plan of who asks for no figure.
void write_usual_ride_plan(std::ostream& out, const SummaryOptions& options) {
  constexpr int usual_pairs = 3;  // a start: below, the scatter is hardly known
  out << wrapped(
             "How to ride before and after a change, with three pairs a side to begin with. To see how many "
             "pairs show a difference that you name: bothways plan --detect 0.2s, with logs of one set-up or "
             "with --scatter 0.15s.",
             options.width)
      << "\n\n";
  write_ride_plan(out, usual_pairs, options);
}

}  // namespace

po::options_description plan_options() {
  po::options_description options;
  auto add = options.add_options();
  const auto word = [](const char* name) { return po::value<std::string>()->value_name(name); };
  add("detect", word("AMOUNT"), "the difference to be seen: 0.2s, 200ms or 2%");
  add("scatter", word("AMOUNT"),
      "sd between two-way results of one set-up; default: worked out from the logs");
  add("power", word("CHANCE"), "chance of seeing the difference if it is there; default: 0.8");
  add("level", word("CHANCE"), "chance of seeing one that is not there; default: 0.05");
  add_analysis_options(options);
  add_pick_options(options);
  add_output_options(options);
  add_input_options(options);
  return options;
}

Exit run_plan(const po::variables_map& values, const Streams& streams) {
  const std::initializer_list<const char*> asks{"detect", "scatter", "power", "level", "path"};
  if (std::none_of(asks.begin(), asks.end(), [&](const char* name) { return values.count(name) > 0; }) &&
      parse_output(values).format == Format::text) {
    write_output(parse_output(values), streams, [&](std::ostream& out) {
      write_usual_ride_plan(out, text_options(parse_output(values), streams));
    });
    return Exit::ok;
  }
  const PlanAsked asked = parse_plan(values);
  const OutputOptions output = parse_output(values);
  if (!asked.scatter) {
    return plan_from_logs(values, asked, output, streams);
  }
  const Planned planned{
      .percent = asked.detect.percent, .options = asked.options, .splits = {planned_split(asked)}};
  write_output(output, streams, [&](std::ostream& out) { write(out, planned, output, streams); });
  return Exit::ok;
}

}  // namespace bothways::cli
