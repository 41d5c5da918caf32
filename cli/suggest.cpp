#include "cli/suggest.hpp"

#include "bothways/core/text.hpp"
#include "cli/command.hpp"

#include <algorithm>
#include <filesystem>
#include <numeric>
#include <string_view>
#include <utility>
#include <vector>

namespace bothways::cli {

namespace {

constexpr std::size_t longest_word = 20;
constexpr std::size_t short_word = 4;

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// Letters to put in, leave out or change, and neighbours to swap, to make one word of the other.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  std::vector<std::size_t> above;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const std::vector<std::size_t> two_above = std::exchange(above, row);
    row[0] = i + 1;
    for (std::size_t k = 0; k < b.size(); ++k) {
      row[k + 1] = std::min({above[k] + (a[i] == b[k] ? 0U : 1U), row[k] + 1, above[k + 1] + 1});
      if (i > 0 && k > 0 && a[i] == b[k - 1] && a[i - 1] == b[k]) {
        row[k + 1] = std::min(row[k + 1], two_above[k - 1] + 1);
      }
    }
  }
  return row.back();
}

std::vector<std::string> option_names(const Command& command) {
  std::vector<std::string> names{"help", "version"};
  const auto options = command.options();
  for (const auto& option : options.options()) {
    names.push_back(option->long_name());
  }
  return names;
}

}  // namespace

std::string nearest(const std::string& word, std::span<const std::string> names) {
  const std::string typed = lowered(word);
  std::string best;
  std::size_t least = typed.size() <= short_word ? 2 : 3;  // below this it is a slip of the fingers
  for (const std::string& name : names) {
    const std::string plain = lowered(name);
    const std::size_t far = typed.size() > 2 && plain.starts_with(typed) ? 1 : distance(typed, plain);
    if (far < least) {
      least = far;
      best = name;
    }
  }
  return best;
}

std::string option_words(const std::string& option, const Command& command) {
  const std::string name = option.substr(std::min(option.find_first_not_of('-'), option.size()));
  const bool one_dash = option.size() - name.size() == 1 && name.size() > 1;
  if (one_dash && command.options().find_nothrow(name, false) != nullptr) {
    return "; write --" + name + ", with two dashes";
  }
  if (name == "csv" || name == "json" || name == "jsonl" || name == "text") {
    return "; did you mean --format " + name + "?";
  }
  if (name == "v" || name == "V") {
    return "; did you mean --version?";
  }
  for (const Command& other : commands()) {
    if (const auto options = other.options(); options.find_nothrow(name, false) != nullptr) {
      return "; '" + called(other) + "' has it";
    }
  }
  const std::string meant = nearest(name, option_names(command));
  return meant.empty() ? "" : "; did you mean --" + meant + "?";
}

std::string suggestion(const std::string& word) {
  std::error_code error;
  if (word.size() < 2 || word.size() > longest_word || !std::all_of(word.begin(), word.end(), is_letter) ||
      std::filesystem::exists(word, error) || error) {
    return "";
  }
  const std::string typed = lowered(word);
  if (typed == "help" || typed == "version") {
    return "bothways --" + typed;
  }
  std::vector<std::string> names;
  for (const Command& command : commands().subspan(1)) {
    names.emplace_back(command.name);
  }
  const std::string meant = nearest(typed, names);
  return meant.empty() ? "" : "bothways " + meant;
}

}  // namespace bothways::cli
