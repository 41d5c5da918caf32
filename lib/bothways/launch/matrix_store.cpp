#include "bothways/launch/matrix_store.hpp"

namespace bothways {

std::vector<PassMatrices>& MatrixStore::of(const numeric::Motion& motion) {
  for (Kept& kept : kept_) {
    if (kept.motion == motion) {
      return kept.pass;
    }
  }
  Kept& oldest = kept_[next_];
  next_ = (next_ + 1) % kept_.size();
  oldest.motion = motion;
  oldest.pass.clear();
  return oldest.pass;
}

}  // namespace bothways
