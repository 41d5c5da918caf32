#include "bothways/pair/assign.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <utility>

namespace bothways {

namespace {

using Nodes = std::vector<std::size_t>;

/// One connected group, split in its two classes; the class of the lowest node comes first.
struct Group {
  Nodes rows;
  Nodes columns;
};

constexpr std::int64_t no_edge = std::int64_t{1} << 50;  // more than any sum of 2^9 costs below 2^40

using Costs = std::vector<std::vector<std::int64_t>>;

/// Cheapest complete assignment of rows to columns, rows <= columns: shortest augmenting paths with
/// potentials, after Jonker and Volgenant 1987 [JV87]. Rows and columns count from 1; 0 means none.
class Assignment {
 public:
  explicit Assignment(const Costs& cost)
      : cost_(cost),
        row_price_(cost.size() + 1, 0),
        column_price_(cost.front().size() + 1, 0),
        row_of_(cost.front().size() + 1, 0) {
    for (std::size_t row = 1; row <= cost.size(); ++row) {
      add(row);
    }
  }

  /// Column of each row, both from 0.
  [[nodiscard]] Nodes columns() const {
    Nodes column_of(cost_.size(), 0);
    for (std::size_t column = 1; column < row_of_.size(); ++column) {
      if (row_of_[column] != 0) {
        column_of[row_of_[column] - 1] = column - 1;
      }
    }
    return column_of;
  }

 private:
  static constexpr auto infinite = std::numeric_limits<std::int64_t>::max();

  /// Search for the cheapest free column from one row.
  struct Search {
    explicit Search(std::size_t n) : previous(n, 0), shortest(n, infinite), done(n, false) {}
    Nodes previous;
    std::vector<std::int64_t> shortest;
    std::vector<bool> done;
  };

  void add(std::size_t row) {
    Search search(row_of_.size());
    std::size_t here = 0;
    row_of_[0] = row;
    while (row_of_[here] != 0) {
      search.done[here] = true;
      here = nearest(search, here);
      shift_prices(search, search.shortest[here]);
    }
    while (here != 0) {
      row_of_[here] = row_of_[search.previous[here]];
      here = search.previous[here];
    }
  }

  [[nodiscard]] std::size_t nearest(Search& search, std::size_t here) const {
    std::size_t next = 0;
    for (std::size_t column = 1; column < row_of_.size(); ++column) {
      if (search.done[column]) {
        continue;
      }
      const std::size_t row = row_of_[here];
      const std::int64_t reduced = cost_[row - 1][column - 1] - row_price_[row] - column_price_[column];
      if (reduced < search.shortest[column]) {
        search.shortest[column] = reduced;
        search.previous[column] = here;
      }
      if (next == 0 || search.shortest[column] < search.shortest[next]) {
        next = column;
      }
    }
    return next;
  }

  void shift_prices(Search& search, std::int64_t least) {
    for (std::size_t column = 0; column < row_of_.size(); ++column) {
      if (search.done[column]) {
        row_price_[row_of_[column]] += least;
        column_price_[column] -= least;
      } else if (search.shortest[column] != infinite) {
        search.shortest[column] -= least;
      }
    }
  }

  const Costs& cost_;
  std::vector<std::int64_t> row_price_;
  std::vector<std::int64_t> column_price_;
  Nodes row_of_;  // by column
};

using Neighbours = std::vector<std::vector<std::pair<std::size_t, std::int64_t>>>;

/// Connected groups by breadth-first search, coloured in two classes.
std::vector<Group> groups_of(const Neighbours& neighbours) {
  std::vector<int> colour(neighbours.size(), -1);
  std::vector<Group> groups;
  for (std::size_t seed = 0; seed < neighbours.size(); ++seed) {
    if (colour[seed] >= 0 || neighbours[seed].empty()) {
      continue;
    }
    Nodes queue{seed};
    colour[seed] = 0;
    Group group;
    for (std::size_t at = 0; at < queue.size(); ++at) {
      const std::size_t node = queue[at];
      (colour[node] == 0 ? group.rows : group.columns).push_back(node);
      for (const auto& [other, cost] : neighbours[node]) {
        if (colour[other] < 0) {
          colour[other] = 1 - colour[node];
          queue.push_back(other);
        }
      }
    }
    std::sort(group.rows.begin(), group.rows.end());
    std::sort(group.columns.begin(), group.columns.end());
    groups.push_back(std::move(group));
  }
  return groups;
}

Nodes part_of(const Nodes& nodes, std::size_t below, bool lower) {
  Nodes part;
  std::copy_if(nodes.begin(), nodes.end(), std::back_inserter(part),
               [&](std::size_t node) { return (node < below) == lower; });
  return part;
}

void pair_group(const Group& group, const Neighbours& neighbours, std::size_t largest,
                std::vector<std::pair<std::size_t, std::size_t>>& pairs) {
  if (group.rows.empty() || group.columns.empty()) {
    return;
  }
  if (group.rows.size() + group.columns.size() > largest) {
    Nodes all = group.rows;
    all.insert(all.end(), group.columns.begin(), group.columns.end());
    auto middle = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
    std::nth_element(all.begin(), middle, all.end());
    for (const bool lower : {true, false}) {
      pair_group({part_of(group.rows, *middle, lower), part_of(group.columns, *middle, lower)}, neighbours,
                 largest, pairs);
    }
    return;
  }
  const bool wide = group.rows.size() <= group.columns.size();
  const Nodes& rows = wide ? group.rows : group.columns;
  const Nodes& columns = wide ? group.columns : group.rows;
  Costs cost(rows.size(), std::vector<std::int64_t>(columns.size(), no_edge));
  for (std::size_t row = 0; row < rows.size(); ++row) {
    for (const auto& [other, price] : neighbours[rows[row]]) {
      const auto place = std::lower_bound(columns.begin(), columns.end(), other);
      if (place != columns.end() && *place == other) {
        cost[row][static_cast<std::size_t>(place - columns.begin())] = price;
      }
    }
  }
  const Nodes column_of = Assignment(cost).columns();
  for (std::size_t row = 0; row < rows.size(); ++row) {
    if (cost[row][column_of[row]] < no_edge) {
      const auto [first, second] = std::minmax(rows[row], columns[column_of[row]]);
      pairs.emplace_back(first, second);
    }
  }
}

}  // namespace

std::vector<std::pair<std::size_t, std::size_t>> best_pairing(std::size_t nodes,
                                                              std::span<const Candidate> candidates,
                                                              std::size_t largest_group) {
  Neighbours neighbours(nodes);
  for (const Candidate& candidate : candidates) {
    neighbours[candidate.a].emplace_back(candidate.b, candidate.cost);
    neighbours[candidate.b].emplace_back(candidate.a, candidate.cost);
  }
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (const Group& group : groups_of(neighbours)) {
    pair_group(group, neighbours, std::max<std::size_t>(largest_group, 2), pairs);
  }
  std::sort(pairs.begin(), pairs.end());
  return pairs;
}

}  // namespace bothways
