#pragma once

#include "bothways/log/draft.hpp"

namespace bothways {

/// Notes dates that cannot be right: jumps of more than a year, a clock that was not set, a date before 2010,
/// when a receiver of today may write 1024 weeks too early. Changes nothing: only differences of times
/// matter.
/// @param draft  sorted by time, dated
void note_dates(Draft& draft);

}  // namespace bothways
