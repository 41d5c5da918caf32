#pragma once

#include "bothways/log/draft.hpp"

namespace bothways {

/// A logger faster than 1 Hz that writes whole seconds only gives the same time several times over. Where
/// that is the log's habit, the records of each second are spread evenly inside it, in file order, with the
/// note "whole-second-stamps". Their true place in the second is unknown to one record's spacing.
void spread_whole_seconds(Draft& draft);

}  // namespace bothways
