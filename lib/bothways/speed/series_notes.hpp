#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

// What the speed stage tells the rider of a log, a function a code; each adds nothing where there is nothing
// to tell.

void note_gaps(const std::vector<Stretch>& stretches, std::vector<Note>& notes);

/// @param cuts  whether the position jumped before each fix
void note_jumps(const std::vector<bool>& cuts, std::vector<Note>& notes);

/// @param cuts  whether the log's clock stepped before each fix
void note_clock_steps(const std::vector<bool>& cuts, std::vector<Note>& notes);

void note_outliers(std::size_t outliers, std::vector<Note>& notes);

/// Late speeds of a slow log make the times from rest unsure, and the rider can do something about it.
void note_late_speeds(const Receiver& receiver, std::vector<Note>& notes);

}  // namespace bothways
