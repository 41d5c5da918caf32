#pragma once

#include "bothways/log/draft.hpp"

namespace bothways {

/// What every reader's fixes go through: values that cannot be are made unknown; whole-second stamps of a
/// faster logger are spread inside their second; fixes are sorted by time, and those of one instant merged.
/// Each kind of change leaves one note. After it times strictly increase and every figure is finite or
/// unknown.
void tidy(Draft& draft);

}  // namespace bothways
