#include "cli/zone.hpp"

#include "cli/command.hpp"

#include <boost/program_options/value_semantic.hpp>
#include <date/tz.h>

#include <stdexcept>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

using Microseconds = std::chrono::microseconds;

/// A name as the TZ variable has it, ":Europe/Berlin" or a file of the database.
std::string zone_name(std::string text) {
  text.erase(0, text.starts_with(':') ? 1 : 0);
  const std::string folder = "/usr/share/zoneinfo/";
  return text.starts_with(folder) ? text.substr(folder.size()) : text;
}

bool means_utc(const std::string& name) {
  return name.empty() || name == "UTC" || name == "UTC0" || name == "Etc/UTC";
}

}  // namespace

struct Zone::Rules {
  const date::time_zone* zone;
};

Zone::Zone(std::string name) : name_(std::move(name)) {
  if (means_utc(name_)) {
    name_ = "UTC";
    return;
  }
  try {
    rules_ = std::make_shared<const Rules>(Rules{date::locate_zone(name_)});
    (void)local({});  // reads the rules now, so that a broken database shows
  } catch (const std::runtime_error&) {
    throw std::invalid_argument("there is no time zone '" + name_ +
                                "' on this computer; name one such as Europe/Berlin or America/Denver "
                                "(they come with the package tzdata)");
  }
}

Instant Zone::local(Instant utc) const {
  if (is_utc()) {
    return utc;
  }
  const date::sys_time<Microseconds> time{Microseconds(utc.unix_us)};
  return {rules_->zone->to_local(time).time_since_epoch().count()};
}

Instant Zone::utc(Instant local) const {
  if (is_utc()) {
    return local;
  }
  const date::local_time<Microseconds> time{Microseconds(local.unix_us)};
  return {rules_->zone->to_sys(time, date::choose::earliest).time_since_epoch().count()};
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
