#include "lib/speed/rides.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/script.hpp"

namespace bothways {

const sim::Truth& six_starts() {
  static const sim::Truth truth = [] {
    const double top_mps = Speed::from_mph(52).mps();
    sim::Script script;
    for (int i = 0; i < 6; ++i) {
      sim::append(script, sim::one_way(top_mps, sim::run_length_m(sim::scooter(), top_mps), 12.0));
    }
    return sim::ride(sim::scooter(), {}, script);
  }();
  return truth;
}

Log logged(const sim::ReceiverModel& model, std::uint64_t seed) {
  return sim::receive(six_starts(), model, seed);
}

}  // namespace bothways
