#include "bothways/pair/assign.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <random>

using namespace bothways;

namespace {

struct Score {
  std::size_t pairs = 0;
  std::int64_t cost = 0;
  [[nodiscard]] bool better_than(const Score& other) const {
    return pairs != other.pairs ? pairs > other.pairs : cost < other.cost;
  }
};

/// Tries every set of candidates.
Score best_by_trial(const std::vector<Candidate>& candidates) {
  Score best;
  std::vector<bool> used(64, false);
  const std::function<void(std::size_t, Score)> go = [&](std::size_t at, Score score) {
    if (score.better_than(best)) {
      best = score;
    }
    for (std::size_t k = at; k < candidates.size(); ++k) {
      const Candidate& c = candidates[k];
      if (!used[c.a] && !used[c.b]) {
        used[c.a] = used[c.b] = true;
        go(k + 1, {score.pairs + 1, score.cost + c.cost});
        used[c.a] = used[c.b] = false;
      }
    }
  };
  go(0, {});
  return best;
}

Score score_of(const std::vector<std::pair<std::size_t, std::size_t>>& pairs,
               const std::vector<Candidate>& candidates) {
  Score score;
  std::vector<bool> used(1000, false);
  for (const auto& pair : pairs) {
    const std::size_t a = pair.first;
    const std::size_t b = pair.second;
    REQUIRE((!used[a] && !used[b]));
    used[a] = used[b] = true;
    const auto found = std::find_if(candidates.begin(), candidates.end(), [&](const Candidate& c) {
      return (c.a == a && c.b == b) || (c.a == b && c.b == a);
    });
    REQUIRE(found != candidates.end());
    ++score.pairs;
    score.cost += found->cost;
  }
  return score;
}

}  // namespace

TEST_CASE("the pairing found is as good as the best of all", "[pair]") {
  std::mt19937 random(11);
  for (int trial = 0; trial < 300; ++trial) {
    const std::size_t nodes = 2 + random() % 9;
    std::vector<Candidate> candidates;
    for (std::size_t a = 0; a < nodes; ++a) {
      for (std::size_t b = a + 1; b < nodes; ++b) {
        if ((a * 7 + static_cast<std::size_t>(trial)) % 3 % 2 !=
                (b * 7 + static_cast<std::size_t>(trial)) % 3 % 2 &&
            random() % 3 != 0) {
          candidates.push_back({a, b, static_cast<std::int64_t>(random() % 1000)});
        }
      }
    }
    CAPTURE(trial, nodes, candidates.size());
    const Score best = best_by_trial(candidates);
    const Score found = score_of(best_pairing(nodes, candidates), candidates);
    CHECK(found.pairs == best.pairs);
    CHECK(found.cost == best.cost);
  }
}

TEST_CASE("more pairs go before less time apart", "[pair]") {
  // 0-1 is close, but then 2 and 3 stay alone.
  const std::vector<Candidate> candidates{{1, 0, 1}, {0, 3, 900}, {2, 1, 900}};
  CHECK(best_pairing(4, candidates) == std::vector<std::pair<std::size_t, std::size_t>>{{0, 3}, {1, 2}});
  CHECK(best_pairing(3, {}).empty());
}

TEST_CASE("a huge group is cut, and still each node is used once", "[pair]") {
  std::vector<Candidate> candidates;
  for (std::size_t a = 0; a < 300; ++a) {
    for (std::size_t b = a + 1; b < 300; b += 2) {
      candidates.push_back({a, b, static_cast<std::int64_t>(b - a)});
    }
  }
  const Score cut = score_of(best_pairing(300, candidates, 20), candidates);
  CHECK(cut.pairs >= 140);
  const Score whole = score_of(best_pairing(300, candidates), candidates);
  CHECK(whole.pairs == 150);
  CHECK(whole.cost == 150);
}
