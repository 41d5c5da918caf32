#include <bothways/bothways.hpp>

#include <algorithm>
#include <cstring>
#include <iostream>
#include <string_view>

// Reads a short log from memory: the whole chain of libraries must link for it.
int main() {
  static constexpr std::string_view text =
      "$GPRMC,235959.90,A,4807.0380,N,01131.0000,E,12.340,084.4,311223,,,A*68\r\n"
      "$GPRMC,000000.00,A,4807.0380,N,01131.0100,E,12.840,084.4,010124,,,A*6C\r\n";
  std::string_view rest = text;
  const bothways::ByteSource source = [&rest](std::span<char> buffer) {
    const std::size_t count = std::min(buffer.size(), rest.size());
    std::memcpy(buffer.data(), rest.data(), count);
    rest.remove_prefix(count);
    return count;
  };
  const bothways::Log log = bothways::read_log(source, "two sentences");
  const bothways::Ride ride = bothways::analyse(log, {.splits = bothways::parse_splits("0-30 mph")});
  std::cout << ride.fixes << " fixes, " << ride.runs.accepted.size() << " runs\n";
  return ride.fixes == 2 && ride.runs.accepted.empty() ? 0 : 1;
}
