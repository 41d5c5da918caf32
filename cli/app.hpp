#pragma once

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <string>
#include <vector>

namespace bothways::cli {

/// Exit codes, part of the contract.
enum class Exit {
  ok = 0,             ///< fine
  failed = 1,         ///< an input could not be read, or the output not be written
  usage = 2,          ///< the command line or the config file is wrong
  nothing_found = 3,  ///< no log in a folder, or no run in any log
  reader_gone = 141   ///< who read the output went away, as `head` does; the process then ends by SIGPIPE
};

/// What the process gives the program: its streams and the little it takes from the environment.
struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  std::function<bool()> stopped;      ///< true if --watch is to end; empty: the process is ended from outside
  std::function<bool()> reader_gone;  ///< true if nobody can read out any more; empty: never asked
  bool colour = false;                ///< out is a terminal and NO_COLOR is not set
  bool metric = false;                ///< text in km/h where no units are asked, as people of the place write
  std::size_t width = 80;             ///< columns of text on `out`
  std::size_t err_width = 80;         ///< and on `err`
  std::string time_zone;              ///< as the TZ variable has it; empty: UTC
  std::function<bool(const std::string&)> open_file;  ///< shows a file as people see it; false if it cannot
  std::string config_path;  ///< the config file to read; it need not exist; empty: none
  std::string cache_path;   ///< where `logbook` remembers what it worked out; empty: nowhere
};

/// Whether speeds are km/h where this locale is used, "de_DE.UTF-8": all but the United States and the United
/// Kingdom, and places that share their signs; false where it names no territory.
[[nodiscard]] bool is_metric_locale(const std::string& locale);

/// Columns that text takes of a terminal: all it has, from 60 to 120; 80 where nobody knows.
[[nodiscard]] std::size_t width_for(std::size_t terminal_columns);

/// The program without its process: arguments (without the program's name) and streams in, exit code out.
[[nodiscard]] Exit run(const std::vector<std::string>& arguments, const Streams& streams);

}  // namespace bothways::cli
