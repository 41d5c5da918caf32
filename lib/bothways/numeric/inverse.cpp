#include "bothways/numeric/inverse.hpp"

namespace bothways::numeric {

StateMatrix root_of(const StateMatrix& m) {
  constexpr double least_share = 1e-13;
  StateMatrix root = StateMatrix::Zero();
  for (int j = 0; j < state_size; ++j) {
    double left = m(j, j);
    for (int k = 0; k < j; ++k) {
      left -= root(j, k) * root(j, k);
    }
    if (!(left > least_share * m(j, j))) {
      continue;
    }
    root(j, j) = std::sqrt(left);
    for (int i = j + 1; i < state_size; ++i) {
      double sum = m(i, j);
      for (int k = 0; k < j; ++k) {
        sum -= root(i, k) * root(j, k);
      }
      root(i, j) = sum / root(j, j);
    }
  }
  return root;
}

}  // namespace bothways::numeric
