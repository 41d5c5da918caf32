#include "cli/say.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/words.hpp"

#include <ostream>

namespace bothways::cli {

void say(const Streams& streams, const std::string& who, const std::string& text) {
  streams.err << wrapped(who + ": " + escaped(text), streams.err_width, "", "  ", LongWords::whole) << '\n';
}

}  // namespace bothways::cli
