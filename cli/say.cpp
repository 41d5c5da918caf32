#include "cli/say.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/words.hpp"

#include <ostream>

namespace bothways::cli {

namespace {

constexpr std::size_t screen_width = 80;

}  // namespace

void say(const Streams& streams, const std::string& who, const std::string& text) {
  streams.err << wrapped(who + ": " + escaped(text), screen_width, "", "  ", LongWords::whole) << '\n';
}

}  // namespace bothways::cli
