#include "bothways/launch/window.hpp"

#include <utility>

namespace bothways {

LaunchWindow launch_window(std::vector<Reading> readings, const LaunchRange& range,
                           const LaunchModel& model) {
  RestFilter at_rest = filter_at_rest(readings, range, model);
  return {std::move(readings), range, std::move(at_rest)};
}

}  // namespace bothways
