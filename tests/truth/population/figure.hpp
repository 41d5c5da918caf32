#pragma once

#include "bothways/core/estimate.hpp"
#include "truth/population/draw.hpp"

#include <array>
#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace bothways::population {

/// What a figure is, and what it is held against.
enum class Level {
  run,         ///< a run: its own time from one foot of travel, on that road in that wind
  movement,    ///< a run from first movement, likewise
  pair,        ///< a pair: the level road in still air
  result,      ///< the line over all pairs of a ride: the same
  side,        ///< that of a side of a comparison
  difference,  ///< after less before: what the change does on the level road in still air
  wind         ///< m/s along the road, against the first run of a ride's pairs; word 1: told
};
inline constexpr int levels = 7;
[[nodiscard]] const char* to_string(Level level);

/// How the two sides of a couple were ridden.
enum class Days { blocks, turns, two_days };
[[nodiscard]] const char* to_string(Days days);
/// Of the drive, after over before, less 1.
inline constexpr std::array<double, 4> drive_changes{0.0, 0.02, 0.04, 0.08};

/// One figure with its interval, and the truth.
struct Figure {
  Level level = Level::run;
  int split = 0;  ///< index of split_names
  Estimate found;
  double true_s = 0.0;
  int word = 0;            ///< difference: -1 quicker, +1 slower was told, 0: cannot tell
  bool main = false;       ///< difference: of the split that decides
  double promised = -1.0;  ///< difference, main: chance of a word that plan gives it from the side before
  double scatter_share =
      -1.0;  ///< result: how much its pairs are seen to scatter, over the time; < 0: one pair
};

/// What the curves and tables sort rides by. Numbers as drawn.
struct Traits {
  Kind kind = Kind::logger;
  std::string machine;
  std::string launch;
  std::map<std::string, double> value;  ///< "smoothing_s", "rest_ratio", "tails", ...; units in the name
};

[[nodiscard]] Traits traits_of(const Device& device, const Machine& machine, const sim::Road& road,
                               const Weather& weather);

/// What was made of one ride, or of the rides of one couple.
struct Judged {
  Traits traits;
  std::vector<Figure> figures;
  int true_runs = 0;  ///< standing starts at full throttle that reach the lowest mark
  int found_runs = 0;
  int other_starts = 0;               ///< all others that gain 2.5 m/s
  int false_runs = 0;                 ///< taken for runs although they are among these, or no start at all
  std::map<std::string, int> missed;  ///< true runs left out, by the reason given; "": none
  std::map<std::string, int> taken;   ///< false runs, by what they were
  int unreached = 0;                  ///< splits told of true runs that never reached them
  int asked_beyond = 0;               ///< splits that a true run did not reach
  double find_s = 0.0;                ///< processor time of this thread in the library
  // Couples only.
  Days days = Days::blocks;
  double change = 0.0;  ///< one of drive_changes
  int pairs_a_side = 0;
};

}  // namespace bothways::population
