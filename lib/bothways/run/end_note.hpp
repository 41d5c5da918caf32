#pragma once

#include "bothways/core/note.hpp"
#include "bothways/core/split_spec.hpp"
#include "bothways/run/detect.hpp"
#include "bothways/run/run.hpp"
#include "bothways/speed/series.hpp"

#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// "31 mph", "50 km/h"
[[nodiscard]] std::string speed_text(double v_mps, bool metric);

/// Why a run has no time for a split that was asked, where the rider may wonder: the vehicle got faster after
/// the run had ended, or the log breaks off. Nothing where all have a time, or it just was let off.
/// @param asked   splits, those of the run among them
/// @param metric  speeds in km/h, else mph
[[nodiscard]] std::optional<Note> end_note(const SpeedSeries& series, const StandingStart& start,
                                           const Run& run, const std::vector<SplitSpec>& asked, bool metric);

}  // namespace bothways
