#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/core/quantity.hpp"

#include <string>
#include <vector>

namespace bothways {

/// One thing that differed between two sides besides the change, and what it may do to a time by itself.
struct ExpectedPart {
  std::string code;  ///< air | mass | wind
  Range share;       ///< of the time, after less before: 0.053 is 5.3 % slower
  Range time_s;      ///< the same in seconds
  std::string text;  ///< one sentence
};

/// What differing conditions may explain of a difference. A note beside it: never taken off it.
struct ExpectedEffect {
  std::vector<ExpectedPart> parts;  ///< empty where nothing that matters differs, or nothing is known
};

/// First order, from the elasticities of a small scooter's times to 30, 40 and 50 mph; another vehicle
/// differs in the second digit. Where one thing is known of one side only it is taken to be alike.
///
/// - air: time goes with dry density to the power -1.06 where drive and drag both go with it. The correction
///   of SAE J1349 [J1349] sees less in temperature and more in pressure; the range holds both. It holds for
///   an engine that breathes unaided; the sentence says so. Told from 0.5 % of density on.
/// - mass: time goes with total mass to the power 1.055. Where one total is unknown it is the other, less the
///   difference of the riders. Told from 0.3 % on.
/// - wind: its square slows both ways, by 0.05 % (to 30 mph) to 0.08 % (to 50 mph) for each (m/s)^2. Told
///   from 0.1 % on.
///
/// Check values: 5 kg on 200 kg 2.6 % of the time, 5 % less dense air 5.5 to 5.7 % (test "the expected effect
/// agrees with the figures of the scooter").
/// @param time_s  time of the split before, s, > 0
/// @param metric  masses in sentences in kg, else lb
/// @throws std::invalid_argument  if time_s is not above 0.
[[nodiscard]] ExpectedEffect expected_effect(const Conditions& before, const Conditions& after, double time_s,
                                             bool metric = true);

}  // namespace bothways
