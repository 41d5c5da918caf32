#include "cli/sides.hpp"

#include "bothways/report/escape.hpp"
#include "cli/command.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <tuple>

namespace bothways::cli {

namespace po = boost::program_options;
namespace fs = std::filesystem;

namespace {

using Words = std::vector<std::string>;

constexpr std::size_t longest_name = 20;

Words words_of(const po::variables_map& values, const char* name) {
  Words words = values.count(name) > 0 ? values[name].as<Words>() : Words{};
  if (std::any_of(words.begin(), words.end(), [](const auto& word) { return word.starts_with("--"); })) {
    throw UsageError("--" + std::string(name) + " needs a value");  // it took the next option for one
  }
  return words;
}

SideAsked& side_named(std::vector<SideAsked>& sides, const std::string& name) {
  const auto found =
      std::find_if(sides.begin(), sides.end(), [&](const SideAsked& side) { return side.name == name; });
  return found != sides.end() ? *found : sides.emplace_back(SideAsked{name, {}});
}

std::vector<SideAsked> named_sides(const Words& texts) {
  std::vector<SideAsked> sides;
  for (const std::string& text : texts) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals == 0 || equals + 1 == text.size()) {
      throw UsageError("--side takes NAME=PATH, for example \"stock spring=saturday/\", not '" + text + "'");
    }
    const std::string name = text.substr(0, equals);
    if (display_width(escaped(name)) > longest_name) {
      throw UsageError("the name of a side has at most " + std::to_string(longest_name) + " letters, not '" +
                       name + "'");
    }
    side_named(sides, name).paths.push_back(text.substr(equals + 1));
  }
  if (sides.size() < 2) {
    throw UsageError("one side alone cannot be compared; give another --side NAME=PATH");
  }
  return sides;
}

bool is_same_log(const std::string& a, const std::string& b) {
  std::error_code error;  // a path that does not exist is equivalent to nothing
  return a == b || (a != "-" && b != "-" && fs::equivalent(a, b, error) && !error);
}

[[noreturn]] void refuse(const std::string& file, const std::string& a, const std::string& b) {
  throw UsageError((file == "-" ? "standard input" : file) + " is on two sides, " + a + " and " + b +
                   "; a log belongs to one, or say which part to which: " + a + "=ride.nmea@10:30-11:10");
}

/// Whole logs; of parts nobody knows before they are read whether they are the same.
void refuse_shared_logs(const std::vector<SideAsked>& sides, const std::vector<LogAsked>& logs) {
  for (std::size_t i = 0; i < logs.size(); ++i) {
    for (std::size_t j = i + 1; j < logs.size(); ++j) {
      const bool parts = !logs[i].window.open() && !logs[j].window.open();
      if (logs[i].side != logs[j].side && !parts && is_same_log(logs[i].path, logs[j].path)) {
        refuse(logs[j].path, sides[logs[i].side].name, sides[logs[j].side].name);
      }
    }
  }
}

/// A path, and the part of it that is meant.
LogAsked part_asked(const std::string& path) {
  const std::size_t at = path.rfind('@');
  std::error_code error;
  if (at == std::string::npos || at == 0 || path.find(':', at) == std::string::npos ||
      fs::exists(path, error)) {
    return {.path = path, .window = {}};
  }
  try {
    return {.path = path.substr(0, at), .window = parse_time_window(path.substr(at + 1))};
  } catch (const std::invalid_argument& wrong) {
    throw UsageError(path + ": " + wrong.what() + "; for a part of a log 10:30-11:10");
  }
}

void add_found(const Inputs& found, const TimeWindow& window, std::size_t side, SideInputs& all) {
  const auto append = [](const auto& from, auto& to) { to.insert(to.end(), from.begin(), from.end()); };
  append(found.files, all.inputs.files);
  append(found.troubles, all.inputs.troubles);
  append(found.unreadable, all.inputs.unreadable);
  for (const std::string& file : found.files) {
    all.logs.push_back({.path = file, .window = window, .side = side});
  }
}

}  // namespace

void add_side_options(po::options_description& options) {
  const auto words = [](const char* name) { return po::value<Words>()->value_name(name); };
  auto add = options.add_options();
  add("before", words("PATH...")->multitoken(), "logs or folders from before the change");
  add("after", words("PATH...")->multitoken(), "logs or folders from after the change");
  add("side", words("NAME=PATH"),
      "instead of --before and --after: a set-up by name, as often as needed; the others are compared with "
      "the first; repeat a name to add another path to it");
  add("main", po::value<std::string>()->value_name("SPLIT"),
      "the split that decides; default: the first of the splits");
}

std::vector<SideAsked> parse_sides(const po::variables_map& values) {
  const Words before = words_of(values, "before");
  const Words after = words_of(values, "after");
  const Words named = words_of(values, "side");
  const Words plain = words_of(values, "path");
  if (plain.size() == 2 && before.empty() && after.empty() && named.empty()) {
    return {{"before", {plain[0]}}, {"after", {plain[1]}}};
  }
  if (!plain.empty() && before.empty() && after.empty() && named.empty()) {
    return {};
  }
  if (!plain.empty()) {
    throw UsageError(
        "say which side '" + plain.front() +
        "' belongs to: two paths alone are before and after; else --before PATH... --after PATH..., or "
        "--side NAME=PATH");
  }
  if (!named.empty() && !(before.empty() && after.empty())) {
    throw UsageError("name the sides with --before and --after, or with --side, not both");
  }
  if (!named.empty()) {
    return named_sides(named);
  }
  if (before.empty() || after.empty()) {
    const bool neither = before.empty() && after.empty();
    throw UsageError(neither          ? "give two logs or folders, before and after the change; or one whose "
                                        "conditions.ini names the set-ups; or name sides, --side NAME=PATH twice"
                     : before.empty() ? "there is nothing to compare with: --before PATH... is missing"
                                      : "there is nothing to compare: --after PATH... is missing");
  }
  return {{"before", before}, {"after", after}};
}

SideInputs find_side_inputs(const std::vector<SideAsked>& sides, bool names) {
  SideInputs all;
  for (std::size_t side = 0; side < sides.size(); ++side) {
    Words whole;
    for (const std::string& path : sides[side].paths) {
      const LogAsked asked = part_asked(path);
      if (asked.window.open()) {
        whole.push_back(path);
      } else {
        add_found(find_inputs({asked.path}, names), asked.window, side, all);
      }
    }
    add_found(find_inputs(whole, names), {}, side, all);
  }
  std::stable_sort(all.logs.begin(), all.logs.end(), [](const LogAsked& a, const LogAsked& b) {
    return std::tie(a.side, a.path) < std::tie(b.side, b.path);
  });
  refuse_shared_logs(sides, all.logs);
  return all;
}

void refuse_shared_parts(const std::vector<SideAsked>& sides, const Analysed& analysed) {
  const auto& rides = analysed.rides;
  for (std::size_t i = 0; i < rides.size(); ++i) {
    for (std::size_t j = i + 1; j < rides.size(); ++j) {
      const bool meet = rides[i].first <= rides[j].last && rides[j].first <= rides[i].last;
      if (analysed.sides[i] != analysed.sides[j] && meet && is_same_log(rides[i].path, rides[j].path)) {
        refuse((rides[j].part ? "a part of " : "") + rides[j].path, sides[analysed.sides[i]].name,
               sides[analysed.sides[j]].name);
      }
    }
  }
}

}  // namespace bothways::cli
