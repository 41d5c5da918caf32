#pragma once

namespace bothways::numeric {

[[nodiscard]] constexpr double square(double x) {
  return x * x;
}

}  // namespace bothways::numeric
