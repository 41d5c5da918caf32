#include "bothways/numeric/inverse.hpp"

#include <cmath>
#include <utility>

namespace bothways::numeric {

namespace {

int pivot_row(const StateMatrix& m, int column) {
  int best = column;
  for (int row = column + 1; row < state_size; ++row) {
    if (std::abs(m(row, column)) > std::abs(m(best, column))) {
      best = row;
    }
  }
  return best;
}

}  // namespace

Inverse invert(StateMatrix m) {
  Inverse out;
  StateMatrix& inverse = out.matrix;
  double det = 1.0;
  for (int column = 0; column < state_size; ++column) {
    const int pivot = pivot_row(m, column);
    if (pivot != column) {
      for (int k = 0; k < state_size; ++k) {
        std::swap(m(pivot, k), m(column, k));
        std::swap(inverse(pivot, k), inverse(column, k));
      }
    }
    det *= m(column, column);
    const double scale = 1.0 / m(column, column);
    for (int k = 0; k < state_size; ++k) {
      m(column, k) *= scale;
      inverse(column, k) *= scale;
    }
    for (int row = 0; row < state_size; ++row) {
      const double factor = m(row, column);
      if (row == column || factor == 0.0) {
        continue;
      }
      for (int k = 0; k < state_size; ++k) {
        m(row, k) -= factor * m(column, k);
        inverse(row, k) -= factor * inverse(column, k);
      }
    }
  }
  out.log_abs_det = std::log(std::abs(det));
  return out;
}

}  // namespace bothways::numeric
