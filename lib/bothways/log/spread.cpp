#include "bothways/log/spread.hpp"

#include "bothways/core/microseconds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace bothways {

namespace {

constexpr std::size_t fastest_hz = 100;

/// Neighbours in the file with one and the same time.
struct Group {
  std::size_t first = 0;
  std::size_t count = 0;
};

bool same_content(const Fix& a, const Fix& b) {
  const auto same = [](double x, double y) { return x == y || (!is_known(x) && !is_known(y)); };
  return same(a.lat_deg, b.lat_deg) && same(a.lon_deg, b.lon_deg) && same(a.speed_mps, b.speed_mps);
}

bool content_differs(const Draft& draft, const Group& group) {
  for (std::size_t i = group.first + 1; i < group.first + group.count; ++i) {
    if (!same_content(draft.fixes[i - 1], draft.fixes[i])) {
      return true;
    }
  }
  return false;
}

/// Empty unless every time is a whole second.
std::vector<Group> whole_second_groups(const Draft& draft) {
  std::vector<Group> groups;
  for (std::size_t i = 0; i < draft.fixes.size(); ++i) {
    if (draft.fixes[i].time.unix_us % us_per_s != 0) {
      return {};
    }
    if (i > 0 && draft.fixes[i].time == draft.fixes[i - 1].time) {
      ++groups.back().count;
    } else {
      groups.push_back({i, 1});
    }
  }
  return groups;
}

/// Records a second, if that is one steady number of two or more in at least four of five seconds (one more
/// or less allowed) and the records of a second differ, unless the vehicle stands; else 0.
std::size_t habit(const Draft& draft, const std::vector<Group>& groups) {
  constexpr std::size_t fewest_groups = 3;
  if (groups.size() < fewest_groups || draft.fixes.size() < 3 * groups.size() / 2) {
    return 0;
  }
  std::array<std::size_t, fastest_hz + 2> seen{};
  for (const Group& group : groups) {
    ++seen[std::min(group.count, fastest_hz + 1)];
  }
  const auto usual = static_cast<std::size_t>(std::max_element(seen.begin(), seen.end()) - seen.begin());
  if (usual < 2 || usual > fastest_hz) {
    return 0;
  }
  const std::size_t near = (usual > 2 ? seen[usual - 1] : 0) + seen[usual] + seen[usual + 1];
  std::size_t differing = 0;
  for (const Group& group : groups) {
    differing += content_differs(draft, group) ? 1U : 0U;
  }
  const bool steady = 5 * near >= 4 * (groups.size() - 2);  // the first and last second may be cut
  const bool moving = differing >= fewest_groups - 1 && 10 * differing >= groups.size();
  return steady && moving ? usual : 0;
}

}  // namespace

void spread_whole_seconds(Draft& draft) {
  const std::vector<Group> groups = whole_second_groups(draft);
  const std::size_t usual = habit(draft, groups);
  if (usual == 0) {
    return;
  }
  for (const Group& group : groups) {
    const std::size_t slots = std::max(group.count, &group == &groups.front() || &group == &groups.back()
                                                        ? usual
                                                        : std::min(group.count, usual));
    const std::size_t skipped = &group == &groups.front() ? slots - group.count : 0;
    for (std::size_t i = 0; i < group.count; ++i) {
      draft.fixes[group.first + i].time.unix_us +=
          static_cast<std::int64_t>((skipped + i) * us_per_s / slots);
    }
  }
  draft.whole_second_stamps = true;
  draft.notes.push_back(
      {"whole-second-stamps",
       fmt::format("times are written in whole seconds but there are {} records a second; they "
                   "were spread evenly inside each second, so times are known less well",
                   usual),
       0});
}

}  // namespace bothways
