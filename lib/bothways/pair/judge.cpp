#include "bothways/pair/judge.hpp"

#include <algorithm>
#include <numeric>

namespace bothways {

std::vector<bool> holm(std::span<const double> p_values, double level) {
  std::vector<std::size_t> order(p_values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return p_values[a] < p_values[b]; });
  std::vector<bool> result(p_values.size(), false);
  for (std::size_t rank = 0; rank < order.size(); ++rank) {
    if (!(p_values[order[rank]] * static_cast<double>(order.size() - rank) <= level)) {
      break;
    }
    result[order[rank]] = true;
  }
  return result;
}

std::vector<bool> told(std::span<const double> p_values, std::size_t main, double level) {
  std::vector<double> others;
  for (std::size_t i = 0; i < p_values.size(); ++i) {
    if (i != main) {
      others.push_back(p_values[i]);
    }
  }
  const bool is_main_told = main < p_values.size() && p_values[main] <= level;
  const std::vector<bool> others_told = holm(others, is_main_told ? level : level / 5.0);
  std::vector<bool> result;
  for (std::size_t i = 0, other = 0; i < p_values.size(); ++i) {
    result.push_back(i == main ? is_main_told : bool{others_told[other++]});
  }
  return result;
}

}  // namespace bothways
