#include "bothways/pair/compare_text.hpp"

#include "bothways/core/rounding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

/// "quicker by 0.24 s (0.11 to 0.37)"
std::string amount(const Estimate& difference) {
  const Estimate e = rounded(difference);
  const int decimals = difference_decimals(e);
  const bool is_quicker = difference.value < 0.0;
  return fmt::format("{} by {} s ({} to {})", is_quicker ? "quicker" : "slower",
                     fixed(std::abs(e.value), decimals), fixed(is_quicker ? -e.hi95 : e.lo95, decimals),
                     fixed(is_quicker ? -e.lo95 : e.hi95, decimals));
}

/// "-0.4", "+0.2", and "0.0" without a sign
std::string signed_text(double value, int decimals) {
  const std::string text = fixed(value, decimals);
  return value > 0.0 && text.find_first_of("123456789") != std::string::npos ? "+" + text : text;
}

/// An end of an interval round zero, with as many decimals as keep it from reading as zero.
std::string end_text(double value, int decimals) {
  while (decimals < machine_decimals && std::abs(value) < 0.5 * std::pow(10.0, -decimals)) {
    ++decimals;
  }
  return signed_text(value, decimals);
}

/// "+ 3 more pairs", or what stands in their way.
std::string next_step(const Difference& row) {
  if (!row.main) {
    return "";
  }
  switch (row.largest) {
    case Component::days:
      return "; what differs from day to day keeps it from saying more: ride both on one day, in turns";
    case Component::weather:
      return "; the wind keeps it from saying more: ride both in calm weather, on one day";
    case Component::road:
      return "; the two began on different pieces of road, whose slopes keep it from saying more";
    default:
      break;
  }
  if (row.more_pairs > 0) {
    return fmt::format("; about {} more {} a side would show {} s", row.more_pairs,
                       row.more_pairs == 1 ? "pair" : "pairs",
                       fixed(row.more.difference_s, difference_decimals(rounded(row.difference))));
  }
  return "";
}

std::string single_words(const Difference& row) {
  const bool both = row.pairs_before == 1 && row.pairs_after == 1;
  const char* where = both ? "one pair a side" : row.pairs_before == 1 ? "one pair before" : "one pair after";
  return fmt::format("{}: scatter between pairs cannot be seen there, so {} s (one sd) is allowed for it",
                     where, fixed(rounded(row.allowance_s, machine_decimals), 2));
}

}  // namespace

bool tells_more(const Difference& row) {
  return row.main && row.largest != Component::days && row.largest != Component::weather &&
         row.largest != Component::road;
}

void put_words(Difference& row) {
  const Estimate& difference = row.difference;
  if (row.verdict != Verdict::cannot_tell) {
    row.text = fmt::format("{}: {}", row.spec.name, amount(difference));
  } else if (difference.lo95 > 0.0 || difference.hi95 < 0.0) {
    row.text = fmt::format(
        "{}: cannot tell; taken alone it would be {}, but where several marks or set-ups "
        "are looked at, one of them says so by luck too often",
        row.spec.name, amount(difference));
    row.notes.push_back(
        {"looked-at-together",
         fmt::format("{} is one of several splits or set-ups looked at: with so many, one whose "
                     "interval leaves out zero by chance is no surprise",
                     row.spec.name),
         0});
  } else {
    row.more_pairs =
        row.more.pairs > 0 ? std::max(1, row.more.pairs - std::min(row.pairs_before, row.pairs_after)) : 0;
    const Estimate e = rounded(difference);
    const int decimals = difference_decimals(e);
    row.text = fmt::format("{}: cannot tell; the difference is between {} and {} s{}", row.spec.name,
                           end_text(e.lo95, decimals), end_text(e.hi95, decimals), next_step(row));
  }
  if (row.allowance_s > 0.0) {
    const std::string words = single_words(row);
    row.text += "; " + words;
    row.notes.push_back({"single-pair", words, 0});
  }
}

}  // namespace bothways
