#pragma once

#include "bothways/report/result.hpp"

/// An invented result: two logs, three runs, one pair, starts left out, notes.
/// Speeds and places are made up; nothing here was measured.
[[nodiscard]] bothways::Result sample_result();

/// A log of `n` fixes a second apart, made up.
[[nodiscard]] bothways::Log sample_log(int n);
