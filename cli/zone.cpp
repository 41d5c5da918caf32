#include "cli/zone.hpp"

#include "bothways/core/microseconds.hpp"
#include "cli/command.hpp"

#include <absl/time/civil_time.h>
#include <absl/time/time.h>
#include <boost/program_options/value_semantic.hpp>

#include <stdexcept>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

/// A name as the TZ variable has it, ":Europe/Berlin" or a file of the database.
std::string zone_name(std::string text) {
  text.erase(0, text.starts_with(':') ? 1 : 0);
  const std::string folder = "/usr/share/zoneinfo/";
  return text.starts_with(folder) ? text.substr(folder.size()) : text;
}

bool means_utc(const std::string& name) {
  return name.empty() || name == "UTC" || name == "UTC0" || name == "Etc/UTC";
}

/// The time on a clock whose figures are written as an Instant of UTC.
absl::CivilSecond on_the_clock(Instant figures) {
  return absl::ToCivilSecond(absl::FromUnixMicros(figures.unix_us), absl::UTCTimeZone());
}

}  // namespace

struct Zone::Rules {
  absl::TimeZone zone;
};

Zone::Zone(std::string name) : name_(std::move(name)) {
  if (means_utc(name_)) {
    name_ = "UTC";
    return;
  }
  absl::TimeZone zone;
  if (!absl::LoadTimeZone(name_, &zone)) {
    throw std::invalid_argument("there is no time zone '" + name_ +
                                "' on this computer; name one such as Europe/Berlin or America/Denver "
                                "(they come with the package tzdata)");
  }
  rules_ = std::make_shared<const Rules>(Rules{zone});
}

Instant Zone::local(Instant utc) const {
  if (is_utc()) {
    return utc;
  }
  return {utc.unix_us + rules_->zone.At(absl::FromUnixMicros(utc.unix_us)).offset * us_per_s};
}

Instant Zone::utc(Instant local) const {
  if (is_utc()) {
    return local;
  }
  const absl::TimeZone::TimeInfo info = rules_->zone.At(on_the_clock(local));
  if (info.kind == absl::TimeZone::TimeInfo::SKIPPED) {
    return {absl::ToUnixMicros(info.trans)};
  }
  const std::int64_t fraction_us = ((local.unix_us % us_per_s) + us_per_s) % us_per_s;
  return {absl::ToUnixMicros(info.pre) + fraction_us};  // of two the first
}

void add_zone_option(po::options_description& options) {
  options.add_options()(
      "time-zone", po::value<std::string>()->value_name("ZONE"),
      "times of day are of this zone, Europe/Berlin, and text shows them beside UTC; default: "
      "that of TZ, else UTC");
}

Zone zone_of(const std::string& named, const Streams& streams) {
  try {
    return Zone(zone_name(named.empty() ? streams.time_zone : named));
  } catch (const std::invalid_argument& error) {
    if (!named.empty()) {
      throw UsageError("--time-zone: " + std::string(error.what()));
    }
  }
  return {};  // TZ may hold what is no name; then UTC, which is always told, is all there is
}

Zone parse_zone(const po::variables_map& values, const Streams& streams) {
  return zone_of(values.count("time-zone") > 0 ? values["time-zone"].as<std::string>() : "", streams);
}

}  // namespace bothways::cli
