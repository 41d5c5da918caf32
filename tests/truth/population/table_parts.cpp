#include "truth/population/table_parts.hpp"

#include <fmt/format.h>

namespace bothways::population {

namespace {

std::string seconds(double value) {
  return fmt::format("{:.3f}", value);
}

std::string signed_seconds(double value) {
  return fmt::format("{:+.3f}", value);
}

/// LOW or HIGH: the clustered interval leaves the promised coverage out.
std::string remark(const Share& held) {
  constexpr double least = 0.93;
  constexpr double most = 0.97;
  return held.n == 0 ? "" : held.hi99 < least ? "LOW" : held.lo99 > most ? "HIGH" : "";
}

}  // namespace

std::string percent(double share) {
  return fmt::format("{:.1f}", 100.0 * share);
}

const std::vector<std::string>& summary_head() {
  static const std::vector<std::string> head{"n",  "rides",  "held %",       "99 % from", "to",
                                             "",   "bias s", "median",       "rms",       "e2/sd2",
                                             "+-", "score",  "PIT in tenths"};
  return head;
}

void append_summary(std::vector<std::string>& row, const Summary& s) {
  row.push_back(fmt::format("{}", s.held.n));
  row.push_back(fmt::format("{}", s.held.clusters));
  if (s.held.n == 0) {
    row.resize(row.size() + summary_head().size() - 2);
    return;
  }
  std::string tenths;
  for (const std::size_t count : s.pit) {
    tenths += fmt::format("{}{}", tenths.empty() ? "" : " ", count);
  }
  row.insert(row.end(),
             {percent(s.held.value), percent(s.held.lo99), percent(s.held.hi99),
              s.broken > 0 ? fmt::format("{} BROKEN", s.broken) : remark(s.held), signed_seconds(s.bias),
              seconds(s.median), seconds(s.rms), fmt::format("{:.2f}", s.mean_square), seconds(s.half_width),
              seconds(s.score), tenths});
}

bool is_of(const Judged& ride, int kind) {
  return kind == kinds || ride.traits.kind == static_cast<Kind>(kind);
}

std::string kind_name(int kind) {
  return kind == kinds ? "all" : to_string(static_cast<Kind>(kind));
}

}  // namespace bothways::population
