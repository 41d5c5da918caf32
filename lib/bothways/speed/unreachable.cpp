// docs/method.md, eq. (1.5): dt, sd = total_noise_mps, d = resolution_mps, h = zero_hold_mps.
#include "bothways/speed/unreachable.hpp"

#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <set>
#include <utility>
#include <vector>

namespace bothways {

namespace {

using Limits = OutlierLimits;

constexpr std::size_t no_piece = SIZE_MAX;

/// Whether a vehicle could go from one row to another, as the receiver shows it.
struct Reach {
  const Stretch* stretch;
  double slack_mps;
  double hold_mps;

  Reach(const Stretch& s, const Receiver& r)
      : stretch(&s),
        slack_mps(Limits::slack_mps + Limits::slack_sds * total_noise_mps(r) + r.resolution_mps),
        hold_mps(r.zero_hold_mps) {}

  /// Change between the rows over the greatest that there may be.
  [[nodiscard]] double share(std::size_t from, std::size_t to) const {
    const double a = stretch->v_mps[from];
    const double b = stretch->v_mps[to];
    const double dt_s = std::max(stretch->t_s[to] - stretch->t_s[from], Limits::least_step_s);
    const double held_mps = a == 0.0 || b == 0.0 ? hold_mps : 0.0;  // a held 0 may stand for as much
    return std::abs(b - a) / (Limits::most_accel_mps2 * dt_s + slack_mps + held_mps);
  }
  [[nodiscard]] bool operator()(std::size_t from, std::size_t to) const { return share(from, to) <= 1.0; }
};

/// Neighbouring samples that a vehicle could have made one after the other, and the pieces beside them.
struct LinkedPiece {
  std::size_t first = 0;  ///< row of the stretch
  std::size_t last = 0;
  std::size_t before = no_piece;
  std::size_t after = no_piece;
};

/// Parts a stretch into pieces. Where leaving out one to three samples within a second mends a jump, they are
/// spikes that only one of their sides betrays, and the piece goes on.
class Parting {
 public:
  Parting(Stretch& stretch, const Reach& reach) : stretch_(&stretch), reach_(&reach) {
    rows_.reserve(stretch.t_s.size());
    for (std::size_t i = 0; i < stretch.t_s.size(); ++i) {
      if (is_valid(stretch, i)) {
        rows_.push_back(static_cast<Row>(i));
      }
    }
  }

  std::vector<LinkedPiece> pieces() {
    std::vector<LinkedPiece> out;
    for (std::size_t next = 0; next < rows_.size();) {
      if (!kept_.empty() && !(*reach_)(kept_.back(), rows_[next])) {
        const Cut cut = least_cut(next);
        if (cut.found) {
          take_out(cut, next);
          continue;
        }
        close(out);
      }
      kept_.push_back(rows_[next++]);
    }
    close(out);
    return out;
  }

  [[nodiscard]] std::size_t marked() const { return marked_; }

 private:
  using Row = std::uint32_t;  // of a stretch: half the memory of std::size_t, for logs of days

  struct Cut {
    bool found = false;
    std::size_t before = 0;  ///< samples of the piece so far
    std::size_t after = 0;   ///< samples from the jump on
    double share = 0.0;
  };

  /// The fewest samples before the row `next` or from it on without which there is no jump; of as few those
  /// that leave the smallest change.
  [[nodiscard]] Cut least_cut(std::size_t next) const {
    Cut best;
    for (std::size_t n = 1; n <= Limits::patch_samples && !best.found; ++n) {
      for (std::size_t before = 0; before <= n; ++before) {
        const std::size_t after = n - before;
        if (before >= kept_.size() || next + after >= rows_.size()) {
          continue;
        }
        const std::size_t from = kept_[kept_.size() - 1 - before];
        const std::size_t to = rows_[next + after];
        const double share = reach_->share(from, to);
        if (share <= 1.0 && stretch_->t_s[to] - stretch_->t_s[from] <= Limits::patch_s &&
            (!best.found || share < best.share)) {
          best = {true, before, after, share};
        }
      }
    }
    return best;
  }

  void take_out(const Cut& cut, std::size_t& next) {
    for (std::size_t k = 0; k < cut.before; ++k) {
      stretch_->validity[kept_.back()] = Validity::spike;
      kept_.pop_back();
    }
    for (std::size_t k = 0; k < cut.after; ++k) {
      stretch_->validity[rows_[next++]] = Validity::spike;
    }
    marked_ += cut.before + cut.after;
  }

  void close(std::vector<LinkedPiece>& out) {
    if (!kept_.empty()) {
      out.push_back({kept_.front(), kept_.back()});
      kept_.clear();
    }
  }

  Stretch* stretch_;
  const Reach* reach_;
  std::vector<Row> rows_;  ///< valid ones
  std::vector<Row> kept_;  ///< of the piece so far
  std::size_t marked_ = 0;
};

/// Takes short pieces out, shortest first, until what is left fits together.
class Sieve {
 public:
  Sieve(const Stretch& stretch, const Reach& reach, std::vector<LinkedPiece> pieces)
      : stretch_(&stretch), reach_(&reach), pieces_(std::move(pieces)) {
    for (std::size_t k = 0; k < pieces_.size(); ++k) {
      pieces_[k].before = k > 0 ? k - 1 : no_piece;
      pieces_[k].after = k + 1 < pieces_.size() ? k + 1 : no_piece;
      queue_.insert({duration(k), k});
    }
  }

  /// First and last rows of what is to go.
  std::vector<std::pair<std::size_t, std::size_t>> dropped() {
    std::vector<std::pair<std::size_t, std::size_t>> out;
    while (!queue_.empty() && queue_.begin()->first < Limits::longest_piece_s) {
      const auto [duration_s, k] = *queue_.begin();
      queue_.erase(queue_.begin());
      const LinkedPiece piece = pieces_[k];
      const bool alone = piece.before == no_piece && piece.after == no_piece;
      const bool between = piece.before != no_piece && piece.after != no_piece;
      if (between || (!alone && duration_s < Limits::longest_excursion_s)) {
        out.emplace_back(piece.first, piece.last);
        unlink(piece);
      }
    }
    return out;
  }

 private:
  [[nodiscard]] double duration(std::size_t k) const {
    return stretch_->t_s[pieces_[k].last] - stretch_->t_s[pieces_[k].first];
  }

  void unlink(const LinkedPiece& piece) {
    if (piece.before != no_piece) {
      pieces_[piece.before].after = piece.after;
    }
    if (piece.after != no_piece) {
      pieces_[piece.after].before = piece.before;
    }
    if (piece.before != no_piece && piece.after != no_piece &&
        (*reach_)(pieces_[piece.before].last, pieces_[piece.after].first)) {
      join(piece.before, piece.after);
    }
  }

  void join(std::size_t a, std::size_t b) {
    queue_.erase({duration(a), a});
    queue_.erase({duration(b), b});
    pieces_[a].last = pieces_[b].last;
    pieces_[a].after = pieces_[b].after;
    if (pieces_[a].after != no_piece) {
      pieces_[pieces_[a].after].before = a;
    }
    queue_.insert({duration(a), a});
  }

  const Stretch* stretch_;
  const Reach* reach_;
  std::vector<LinkedPiece> pieces_;
  std::set<std::pair<double, std::size_t>> queue_;  ///< by duration
};

std::size_t mark(Stretch& stretch, std::size_t first, std::size_t last) {
  std::size_t marked = 0;
  for (std::size_t i = first; i <= last; ++i) {
    if (is_valid(stretch, i)) {
      stretch.validity[i] = Validity::unreachable;
      ++marked;
    }
  }
  return marked;
}

}  // namespace

std::size_t mark_unreachable(Stretch& stretch, const Receiver& receiver) {
  std::size_t marked = 0;
  for (std::size_t i = 0; i < stretch.t_s.size(); ++i) {
    marked += stretch.v_mps[i] > Limits::fastest_mps ? mark(stretch, i, i) : 0;
  }
  const Reach reach(stretch, receiver);
  Parting parting(stretch, reach);
  std::vector<LinkedPiece> pieces = parting.pieces();
  marked += parting.marked();
  for (const auto& [first, last] : Sieve(stretch, reach, std::move(pieces)).dropped()) {
    marked += mark(stretch, first, last);
  }
  return marked;
}

}  // namespace bothways
