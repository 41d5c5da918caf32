#include "cli/command.hpp"
#include "cli/conditions.hpp"
#include "cli/config.hpp"
#include "cli/file_format.hpp"
#include "cli/options.hpp"
#include "cli/parts.hpp"
#include "fuzz/invariants.hpp"

#include <algorithm>
#include <cstring>
#include <sstream>
#include <string>
#include <string_view>

/// The bytes as the config file of one command or another, and as the conditions.ini beside a log.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using namespace bothways;
using namespace bothways::cli;
using bothways_fuzz::demand;

constexpr const char* name = "fuzz.ini";
constexpr std::size_t longest = 4096;  // such a file has a dozen lines

/// A sentence about one line of the file, or about the file.
void check_sentence(std::string_view sentence, std::size_t lines, bool with_line) {
  demand(sentence.size() < longest + 2000 && sentence.starts_with(name));
  const std::string_view place = ", line ";
  if (with_line) {
    sentence.remove_prefix(std::strlen(name));
    demand(sentence.starts_with(place));
    const std::size_t line = std::stoul(std::string(sentence.substr(place.size(), 9)));
    demand(line >= 1 && line <= lines && sentence.find(": ") != std::string_view::npos);
  }
}

/// What commands make of the values: a value, or a sentence that names the option.
template <typename Parse>
void check_values(const Parse& parse) {
  try {
    parse();
  } catch (const UsageError& error) {
    demand(std::strstr(error.what(), "--") != nullptr && std::strlen(error.what()) < longest + 2000);
  }
}

void check_config(const Command& command, const std::string& text, std::size_t lines) {
  const auto options = command.options();
  boost::program_options::variables_map values;
  std::istringstream file(text);
  try {
    const ConfigLines from = store_config(file, name, options, values);
    demand(from.size() == values.size() && from.size() <= lines);
    for (const auto& [option, place] : from) {
      check_sentence(place, lines, true);
      demand(values.count(option.substr(2)) == 1 && place_of(from, option + ": so") == place);
    }
  } catch (const UsageError& error) {
    check_sentence(error.what(), lines, true);
    return;
  }
  std::istringstream in;
  std::ostringstream out;
  const Streams streams{.in = in, .out = out, .err = out};
  check_values([&] { (void)parse_analysis(values, streams); });
  check_values([&] { (void)parse_jobs(values); });
  check_values([&] { (void)parse_places(values, parse_output(values, true)); });
  (void)follow_ending(command, false, values);
}

/// The parts of a ride of a day and a half, out of order of time or not, follow one another.
void check_conditions(const std::string& text, std::size_t lines) {
  std::istringstream file(text);
  FoundConditions found;
  try {
    found = read_conditions(file, name);
  } catch (const UsageError& error) {
    check_sentence(error.what(), lines, true);
    return;
  }
  demand(found.notes.empty() && found.sections.size() <= lines);
  const LogExtent log{.dated = true, .first = {1'780'000'000'000'000}, .last = {1'780'129'600'000'000}};
  Instant here = log.first;
  for (const Stay& stay : stays_of(log, found, Zone())) {
    demand(stay.part && stay.part->from == here && stay.part->from <= stay.part->until);
    here = stay.part->until;
  }
  demand(here == Instant{log.last.unix_us + 1});
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), std::min(size, longest));
  const auto lines = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) + 1;
  check_config(commands()[size % commands().size()], text, lines);
  check_conditions(text, lines);
  return 0;
}
