#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/run/ride.hpp"

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

// A log is independent of all others up to pairing. So logs can be timed anywhere, each ride carried as one
// line of JSON, and paired and compared where the lines come together: the results are those of one process,
// byte for byte (test "rides carried as lines give what the logs give").

/// A ride as it travels, and the splits that were asked.
struct RideLine {
  Ride ride;
  std::vector<SplitSpec> splits;
};

/// Writes a ride as one line, about 3 kB a run and 12 kB an hour: every figure to the last bit, but not the
/// curves and further splits of a page.
void write_ride_line(std::ostream& out, const RideLine& line);

/// Reads one.
/// @param file, number  where it stands, for the error
/// @throws LogError  if it is no such line, or of another version
[[nodiscard]] RideLine read_ride_line(std::string_view line, const std::string& file, std::size_t number);

}  // namespace bothways
