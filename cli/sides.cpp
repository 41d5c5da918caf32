#include "cli/sides.hpp"

#include "bothways/report/escape.hpp"
#include "cli/command.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <filesystem>

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

void refuse_shared(const std::vector<SideAsked>& sides, const std::vector<Inputs>& inputs, std::size_t a,
                   std::size_t b) {
  for (const std::string& file : inputs[a].files) {
    const auto& others = inputs[b].files;
    if (std::any_of(others.begin(), others.end(),
                    [&](const auto& other) { return is_same_log(file, other); })) {
      throw UsageError((file == "-" ? "standard input" : file) + " is on two sides, " + sides[a].name +
                       " and " + sides[b].name + "; a log belongs to one");
    }
  }
}

}  // namespace

void add_side_options(po::options_description& options) {
  const auto words = [](const char* name) { return po::value<Words>()->value_name(name); };
  auto add = options.add_options();
  add("before", words("PATH...")->multitoken(), "logs or folders from before the change");
  add("after", words("PATH...")->multitoken(), "logs or folders from after the change");
  add("side", words("NAME=PATH"),
      "instead of these two: a set-up by name; as often as needed, the first is what the others are compared "
      "with; a name given again gets another path");
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
    throw UsageError(neither ? "name two sides: --before PATH... --after PATH..., or --side NAME=PATH twice"
                     : before.empty() ? "there is nothing to compare with: --before PATH... is missing"
                                      : "there is nothing to compare: --after PATH... is missing");
  }
  return {{"before", before}, {"after", after}};
}

std::vector<Inputs> find_side_inputs(const std::vector<SideAsked>& sides, bool names) {
  std::vector<Inputs> all;
  for (const SideAsked& side : sides) {
    all.push_back(find_inputs(side.paths, names));
    std::sort(all.back().files.begin(), all.back().files.end());
  }
  for (std::size_t a = 0; a < all.size(); ++a) {
    for (std::size_t b = a + 1; b < all.size(); ++b) {
      refuse_shared(sides, all, a, b);
    }
  }
  return all;
}

}  // namespace bothways::cli
