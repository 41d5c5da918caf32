#include "cli/app.hpp"

#include "cli/command.hpp"
#include "cli/config.hpp"
#include "cli/file_format.hpp"
#include "cli/help.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/say.hpp"
#include "cli/suggest.hpp"

#include <boost/program_options/errors.hpp>
#include <boost/program_options/parsers.hpp>
#include <boost/program_options/positional_options.hpp>

#include <algorithm>
#include <array>
#include <fstream>
#include <ostream>
#include <string_view>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

/// Boost's errors in our words.
std::string sentence(const po::error& error, const Command& command) {
  if (const auto* e = dynamic_cast<const po::unknown_option*>(&error)) {
    return "there is no option " + e->get_option_name() + option_words(e->get_option_name(), command);
  }
  if (const auto* e = dynamic_cast<const po::multiple_occurrences*>(&error)) {
    return e->get_option_name() + " may be given once";
  }
  if (const auto* e = dynamic_cast<const po::invalid_command_line_syntax*>(&error)) {
    const bool no_value = e->kind() == po::invalid_syntax::missing_parameter ||
                          e->kind() == po::invalid_syntax::empty_adjacent_parameter;
    return e->get_option_name() + (no_value ? " needs a value" : " takes no value");
  }
  return error.what();
}

po::variables_map parse(const std::vector<std::string>& arguments, const Command& command) {
  po::options_description all;
  all.add(command.options());
  all.add_options()("help,h", "")("version", "")("path", po::value<std::vector<std::string>>(), "");
  po::positional_options_description positional;
  positional.add("path", -1);
  po::variables_map values;
  try {
    po::store(po::command_line_parser(arguments)
                  .options(all)
                  .positional(positional)
                  .style(po::command_line_style::unix_style & ~po::command_line_style::allow_guessing)
                  .run(),
              values);
  } catch (const po::error& error) {
    throw UsageError(sentence(error, command));
  }
  return values;
}

ConfigLines read_config(const std::string& path, const Command& command, po::variables_map& values) {
  std::ifstream file(path);
  if (path.empty() || !file) {
    return {};
  }
  const auto options = command.options();
  return store_config(file, path, options, values);
}

Exit run_command(const Command& command, const std::vector<std::string>& arguments, const Streams& streams) {
  po::variables_map values = parse(arguments, command);
  if (values.count("help") > 0) {
    write_help(streams.out, command, streams.width);
    return Exit::ok;
  }
  if (values.count("version") > 0) {
    streams.out << "bothways " BOTHWAYS_VERSION "\n";
    return Exit::ok;
  }
  const bool format_told = values.count("format") > 0;
  ConfigLines from_config = read_config(streams.config_path, command, values);
  if (follow_ending(command, format_told, values)) {
    from_config.erase("--format");
  }
  try {
    return command.run(values, streams);
  } catch (const UsageError& error) {
    throw UsageError(place_of(from_config, error.what()) + error.what());
  }
}

/// The sentence for people, and the exit code, of whatever went wrong.
Exit guarded(const Command& command, const std::vector<std::string>& arguments, const Streams& streams) {
  try {
    const Exit code = run_command(command, arguments, streams);
    streams.out.flush();
    require_written(streams.out);
    return code;
  } catch (const UsageError& error) {
    say(streams, called(command), error.what());
    streams.err << "Try '" << called(command) << " --help'.\n";
    return Exit::usage;
  } catch (const std::bad_alloc&) {
    say(streams, called(command), "there is not enough memory for this");
  } catch (const std::exception& error) {
    if (!streams.out && streams.reader_gone && streams.reader_gone()) {
      return Exit::reader_gone;  // who has read enough wants no sentence about it
    }
    say(streams, called(command), error.what());
  }
  return Exit::failed;
}

}  // namespace

bool is_metric_locale(const std::string& locale) {
  constexpr std::array<std::string_view, 4> mph{"US", "GB", "PR",
                                                "LR"};  // road signs; common knowledge, no source
  const std::size_t at = locale.find('_');
  if (at == std::string::npos || locale.size() < at + 3) {
    return false;
  }
  return std::find(mph.begin(), mph.end(), std::string_view(locale).substr(at + 1, 2)) == mph.end();
}

std::size_t width_for(std::size_t terminal_columns) {
  return terminal_columns == 0 ? 80 : std::clamp<std::size_t>(terminal_columns, 60, 120);
}

Exit run(const std::vector<std::string>& arguments, const Streams& streams) {
  if (arguments.empty()) {
    write_usage(streams.err);
    return Exit::usage;
  }
  const Command* named = arguments.front().empty() ? nullptr : find_command(arguments.front());
  if (named == nullptr) {
    if (const std::string meant = suggestion(arguments.front()); !meant.empty()) {
      say(streams, "bothways",
          "there is no command '" + arguments.front() + "' and no file of that name; did you mean '" + meant +
              "'?");
      return Exit::usage;
    }
    return guarded(commands().front(), arguments, streams);
  }
  return guarded(*named, {arguments.begin() + 1, arguments.end()}, streams);
}

}  // namespace bothways::cli
