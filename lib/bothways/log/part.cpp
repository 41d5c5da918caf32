#include "bothways/log/part.hpp"

#include <algorithm>

namespace bothways {

Log part_of(const Log& log, Instant from, Instant until) {
  const auto at = [&](Instant time) {
    return std::lower_bound(log.fixes.begin(), log.fixes.end(), time,
                            [](const Fix& fix, Instant t) { return fix.time < t; }) -
           log.fixes.begin();
  };
  const std::ptrdiff_t first = at(from);
  const std::ptrdiff_t last = std::max(first, at(until));
  Log part{.path = log.path, .format = log.format, .dated = log.dated};
  part.fixes.assign(log.fixes.begin() + first, log.fixes.begin() + last);
  for (const Channel& channel : log.channels) {
    part.channels.push_back({channel.name, {channel.value.begin() + first, channel.value.begin() + last}});
  }
  part.notes = log.notes;
  part.whole_second_stamps = log.whole_second_stamps;
  return part;
}

}  // namespace bothways
