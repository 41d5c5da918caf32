#include "cli/app.hpp"

#include <ostream>

namespace bothways::cli {

Exit run(const std::vector<std::string>& /*arguments*/, const Streams& streams) {
  streams.err << "bothways: no command is built yet\n";
  return Exit::usage;
}

}  // namespace bothways::cli
