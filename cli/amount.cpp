#include "cli/amount.hpp"

#include "cli/command.hpp"

#include <charconv>
#include <cmath>

namespace bothways::cli {

namespace {

constexpr double longest_s = 3600.0;

struct Written {
  double value = 0.0;
  std::string unit;
};

/// The figure and what follows it; the figure is not a number where there is none.
Written split_text(const std::string& text) {
  Written written{.value = std::nan("")};
  const std::size_t start = text.find_first_not_of(' ');
  if (start == std::string::npos) {
    return written;
  }
  const char* const end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data() + start, end, written.value);
  if (error != std::errc()) {
    written.value = std::nan("");
  }
  written.unit.assign(rest, end);
  written.unit.erase(0, written.unit.find_first_not_of(' '));
  written.unit.erase(written.unit.find_last_not_of(' ') + 1);
  return written;
}

}  // namespace

Amount parse_amount(const std::string& text, const std::string& option) {
  Written written = split_text(text);
  const bool percent = written.unit == "%";
  if (written.unit == "ms") {
    written.value /= 1000.0;
  } else if (written.unit != "s" && !percent) {
    written.value = std::nan("");
  }
  if (!(written.value > 0.0 && written.value <= (percent ? 100.0 : longest_s))) {
    throw UsageError(option +
                     " takes a time or a share above 0 with its unit, for example 0.2s, 200ms or 2%, "
                     "not '" +
                     text + "'");
  }
  return {written.value, percent};
}

double parse_chance(const std::string& text, const std::string& option) {
  const Written written = split_text(text);
  const double chance = written.unit == "%" ? written.value / 100.0 : written.value;
  if (!(written.unit.empty() || written.unit == "%") || !(chance > 0.0 && chance < 1.0)) {
    throw UsageError(option + " takes a chance between 0 and 1, for example 0.8 or 80%, not '" + text + "'");
  }
  return chance;
}

}  // namespace bothways::cli
