#pragma once

#include "bothways/core/time.hpp"
#include "cli/app.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <memory>
#include <string>

namespace bothways::cli {

/// Local time of a place, from the time zone database of the computer; UTC unless one is named. Times that a
/// rider writes are read by it, and text shows its times beside UTC.
class Zone {
 public:
  Zone() = default;
  /// @param name  "Europe/Berlin"; @throws std::invalid_argument  if the database has no such zone.
  explicit Zone(std::string name);

  [[nodiscard]] bool is_utc() const { return rules_ == nullptr; }
  [[nodiscard]] const std::string& name() const { return name_; }
  /// What a clock there shows, written as an Instant of the same figures.
  [[nodiscard]] Instant local(Instant utc) const;
  /// The other way; of an hour that comes twice the first, in one that is left out its beginning.
  [[nodiscard]] Instant utc(Instant local) const;

 private:
  struct Rules;
  std::string name_ = "UTC";
  std::shared_ptr<const Rules> rules_;
};

/// --time-zone
void add_zone_option(boost::program_options::options_description& options);

/// The zone that --time-zone names, else that of the environment where it is one, else UTC.
/// @throws UsageError  if the one named is none.
[[nodiscard]] Zone zone_of(const std::string& named, const Streams& streams);
[[nodiscard]] Zone parse_zone(const boost::program_options::variables_map& values, const Streams& streams);

}  // namespace bothways::cli
