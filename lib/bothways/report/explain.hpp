#pragma once

#include "bothways/report/summary.hpp"

#include <iosfwd>

namespace bothways {

/// What is known of one log's receiver, in sentences.
void explain_receiver(std::ostream& out, const Ride& ride, const SummaryOptions& options);

/// By which rules starts are judged, in sentences.
void explain_rules(std::ostream& out, const Result& result, const SummaryOptions& options);

/// Every split with its sd, interval ends and the time from first movement.
void explain_splits(std::ostream& out, const Result& result, const SummaryOptions& options);

}  // namespace bothways
