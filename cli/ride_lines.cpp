#include "cli/ride_lines.hpp"

#include "bothways/core/error.hpp"
#include "bothways/report/ride_lines.hpp"
#include "cli/command.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <array>
#include <fstream>
#include <istream>
#include <tuple>
#include <typeinfo>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

constexpr std::size_t longest_line = 64U << 20U;  // a day of riding takes 0.3 MB

enum class Line { whole, too_long, none };

/// The next line. One that is too long is passed over without being held.
Line next_line(std::istream& in, std::string& line) {
  line.clear();
  bool fits = true;
  std::array<char, 1U << 16U> piece{};
  do {
    in.clear(in.rdstate() & ~std::ios::failbit);
    in.getline(piece.data(), piece.size());
    if (in.bad() || (in.eof() && in.gcount() == 0 && line.empty())) {
      return Line::none;
    }
    fits = fits && line.size() < longest_line;
    if (fits) {
      line += piece.data();
    }
  } while (in.fail() && !in.eof());
  return fits ? Line::whole : Line::too_long;
}

bool is_same(const std::vector<SplitSpec>& a, const std::vector<SplitSpec>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const SplitSpec& x, const SplitSpec& y) { return x.name == y.name; });
}

class Reading {
 public:
  void file(const LogAsked& asked, std::istream& in) {
    const std::string name = asked.path == "-" ? "standard input" : asked.path;
    std::string line;
    std::size_t number = 0;
    for (Line read = next_line(in, line); read != Line::none; read = next_line(in, line)) {
      ++number;
      try {
        if (read == Line::too_long) {
          throw LogError(name, number, "the line is longer than 64 MB");
        }
        if (!line.empty()) {
          add(read_ride_line(line, name, number), asked.side, name, number);
        }
      } catch (const LogError& error) {
        all_.troubles.failed.emplace_back(error.what());
      }
    }
  }

  void trouble(const std::string& sentence) { all_.troubles.failed.push_back(sentence); }

  Analysed take() {
    std::stable_sort(rides_.begin(), rides_.end(), [](const auto& a, const auto& b) {
      return std::tie(a.first, a.second.path) < std::tie(b.first, b.second.path);
    });
    for (auto& [side, ride] : rides_) {
      all_.sides.push_back(side);
      all_.rides.push_back(std::move(ride));
    }
    all_.read = all_.rides.size();
    return std::move(all_);
  }

 private:
  void add(RideLine line, std::size_t side, const std::string& name, std::size_t number) {
    if (rides_.empty()) {
      all_.splits = line.splits;
    } else if (!is_same(all_.splits, line.splits)) {
      throw LogError(name, number,
                     "other splits were timed here than in the line before; time all logs anew");
    }
    all_.top_speed_mps = std::max(all_.top_speed_mps, line.ride.top_speed_mps);
    rides_.emplace_back(side, std::move(line.ride));
  }

  std::vector<std::pair<std::size_t, Ride>> rides_;  // by side
  Analysed all_;
};

}  // namespace

void add_lines_option(po::options_description& options) {
  options.add_options()("from-jsonl", po::bool_switch(),
                        "the paths hold what bothways runs --format jsonl --rides wrote, not logs");
}

bool parse_lines(const po::variables_map& values) {
  if (!is_on(values, "from-jsonl")) {
    return false;
  }
  for (const char* for_logs : {"splits", "conditions", "date-order", "from", "to", "include-gentle"}) {
    const bool there = values.count(for_logs) > 0;
    if (there && (values[for_logs].value().type() != typeid(bool) || values[for_logs].as<bool>())) {
      throw UsageError("--" + std::string(for_logs) +
                       " goes with logs; with --from-jsonl it was said to bothways runs");
    }
  }
  return true;
}

Analysed rides_of_lines(const std::vector<LogAsked>& files, const Streams& streams) {
  Reading reading;
  for (const LogAsked& asked : files) {
    if (asked.path == "-") {
      reading.file(asked, streams.in);
      continue;
    }
    std::ifstream in(asked.path, std::ios::binary);
    if (in) {
      reading.file(asked, in);
    } else {
      reading.trouble(LogError(asked.path, 0, "the file could not be read; check the name").what());
    }
  }
  return reading.take();
}

}  // namespace bothways::cli
