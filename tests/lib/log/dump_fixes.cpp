/// Prints the fixes of a log as CSV, or with --notes what was noted. For tests only.
#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"

#include <charconv>
#include <iostream>
#include <string>

namespace {

std::string number(double value) {
  if (!bothways::is_known(value)) {
    return {};
  }
  char text[32];
  const auto end = std::to_chars(text, text + sizeof text, value).ptr;
  return {text, end};
}

void print_fixes(const bothways::Log& log) {
  std::cout << "time_unix_us,lat,lon,ele,speed_mps,course,hdop,satellites,position_sd_m,speed_sd_mps\n";
  for (const bothways::Fix& fix : log.fixes) {
    std::cout << fix.time.unix_us << ',' << number(fix.lat_deg) << ',' << number(fix.lon_deg) << ','
              << number(fix.ele_m) << ',' << number(fix.speed_mps) << ',' << number(fix.course_deg) << ','
              << number(fix.hdop) << ','
              << (fix.satellites < 0 ? std::string() : std::to_string(fix.satellites)) << ','
              << number(fix.position_sd_m) << ',' << number(fix.speed_sd_mps) << '\n';
  }
}

}  // namespace

int main(int argc, char** argv) {
  const bool notes_only = argc > 2 && std::string(argv[1]) == "--notes";
  for (int i = notes_only ? 2 : 1; i < argc; ++i) {
    try {
      const bothways::Log log = bothways::read_log(argv[i]);
      if (!notes_only) {
        print_fixes(log);
        continue;
      }
      std::cout << log.path << ": " << to_string(log.format) << ", " << log.fixes.size() << " fixes, "
                << format_iso8601(log.fixes.front().time) << " to " << format_iso8601(log.fixes.back().time)
                << '\n';
      for (const bothways::Note& note : log.notes) {
        std::cout << "    " << note.code << ": " << note.text << '\n';
      }
    } catch (const bothways::LogError& error) {
      std::cout << error.what() << '\n';
      if (!notes_only) {
        return 1;
      }
    }
  }
}
