#include "cli/ride_cache.hpp"

#include "cli/digest.hpp"
#include "cli/logbook_fields.hpp"
#include "cli/packed.hpp"
#include "cli/sqlite.hpp"

#include <map>
#include <mutex>
#include <utility>
#include <vector>

namespace bothways::cli {

namespace {

std::string names_of(const std::vector<SplitSpec>& splits) {
  std::string text;
  for (const SplitSpec& split : splits) {
    text += "," + split.name;
  }
  return text;
}

/// In UTC, so that the same words in another time zone are another part.
std::string words_of(const std::optional<PartOfLog>& part) {
  return part ? " " + std::to_string(part->from.unix_us) + " " + std::to_string(part->until.unix_us) + " "
              : "";
}

std::string words_of(const RunOptions& options) {
  return std::string(options.include_gentle ? "gentle" : "") +
         (options.metric ? ",metric" : "") +  // in the reasons of starts left out
         names_of(options.splits);
}

/// An entry carries a digest of itself: a flipped bit in the file is no figure.
std::string sealed(const std::string& bytes) {
  return digest(bytes) + bytes;
}

std::optional<std::string> unsealed(const std::string& entry) {
  constexpr std::size_t size = 16;
  if (entry.size() < size || digest(entry.substr(size)) != entry.substr(0, size)) {
    return std::nullopt;
  }
  return entry.substr(size);
}

}  // namespace

class RideCache::File {
 public:
  File(const std::string& path, std::string maker) : maker_(std::move(maker)), table_(path) {}

  /// @param key  of key_of(); what has none is not remembered
  std::optional<std::string> find(const std::string& key) {
    std::optional<std::string> entry;
    if (!key.empty()) {
      const std::scoped_lock lock(mutex_);
      entry = table_.find(key);
    }
    return entry ? unsealed(*entry) : std::nullopt;
  }

  void keep(const std::string& key, const std::string& bytes) {
    const std::scoped_lock lock(mutex_);
    if (!key.empty()) {
      kept_.emplace_back(key, sealed(bytes));
    }
  }

  void save() {
    const std::scoped_lock lock(mutex_);
    if (!kept_.empty()) {
      table_.put(kept_);
      kept_.clear();
    }
  }

  [[nodiscard]] std::string key_of(const std::string& of, const std::string& what) const {
    return digest(of + maker_ + what);
  }

  /// Each log is read once for this, so that what is kept is what was looked for.
  std::string key_of_log(const std::string& path, const std::string& what) {
    {
      const std::scoped_lock lock(mutex_);
      if (const auto known = digests_.find(path); known != digests_.end()) {
        return key_of(known->second, what);
      }
    }
    const auto of_file = path == "-" ? std::nullopt : digest_of_file(path);
    if (!of_file) {
      return "";
    }
    const std::scoped_lock lock(mutex_);
    digests_[path] = *of_file;
    return key_of(*of_file, what);
  }

 private:
  std::string maker_;
  std::mutex mutex_;
  SqliteTable table_;
  std::map<std::string, std::string> digests_;
  std::vector<std::pair<std::string, std::string>> kept_;
};

RideCache::RideCache(const std::string& file, const std::string& maker)
    : file_(std::make_unique<File>(file, maker)) {}

RideCache::~RideCache() = default;

RideStore RideCache::rides() {
  File& file = *file_;
  const auto summary_key = [&file](const std::string& path) { return file.key_of_log(path, "summary"); };
  const auto look_key = [&file](const LogOrPart& log) {
    return file.key_of_log(log.path, "look" + words_of(log.part));
  };
  const auto runs_key = [&file](const LogOrPart& log, const RunOptions& options) {
    return file.key_of_log(log.path, "runs" + words_of(log.part) + words_of(options));
  };
  return {
      .find_summary = [&file, summary_key](const std::string& path) -> std::optional<LogSummary> {
        const auto bytes = file.find(summary_key(path));
        return bytes ? unpacked<LogSummary>(*bytes, {}) : std::nullopt;
      },
      .keep_summary = [&file, summary_key](
                          const std::string& path,
                          const LogSummary& summary) { file.keep(summary_key(path), packed(summary, {})); },
      .find_look = [&file, look_key](const LogOrPart& log) -> std::optional<Ride> {
        const auto bytes = file.find(look_key(log));
        std::optional<Ride> ride = bytes ? unpacked<Ride>(*bytes, {}) : std::nullopt;
        if (ride) {
          ride->path = log.path;
          ride->trace.path = log.path;
        }
        return ride;
      },
      .keep_look = [&file, look_key](const LogOrPart& log,
                                     const Ride& look) { file.keep(look_key(log), packed(look, {})); },
      .find_runs = [&file, runs_key](const LogOrPart& log, const RunOptions& options) -> std::optional<Ride> {
        const auto bytes = file.find(runs_key(log, options));
        return bytes ? unpacked<Ride>(*bytes, options.splits) : std::nullopt;
      },
      .keep_runs =
          [&file, runs_key](const LogOrPart& log, const RunOptions& options, const Ride& runs) {
            file.keep(runs_key(log, options), packed(runs, options.splits));
          }};
}

LogbookStore RideCache::logbook(const std::vector<SplitSpec>& splits, Clock clock) {
  File& file = *file_;
  std::string asked = to_string(clock) + names_of(splits);
  const auto change_key = [&file, asked](const LogbookStore::Keys& before, const LogbookStore::Keys& after) {
    std::string keys;
    for (const LogbookStore::Keys* side : {&before, &after}) {
      keys += std::to_string(side->size()) + ":";
      for (const std::string& key : *side) {
        keys += key;
      }
    }
    return file.key_of(digest(keys), "change" + asked);
  };
  return {.key_of =
              [splits](std::vector<Ride> rides) {
                for (Ride& ride : rides) {
                  ride.turn = 0;  // by all rides before it; neither pairs nor changes see it
                }
                return digest(packed(rides, splits));
              },
          .find_day = [&file, splits, asked](const std::string& key) -> std::optional<LogbookDay> {
            const auto bytes = file.find(file.key_of(key, "day" + asked));
            return bytes ? unpacked<LogbookDay>(*bytes, splits) : std::nullopt;
          },
          .keep_day =
              [&file, splits, asked](const std::string& key, const LogbookDay& day) {
                file.keep(file.key_of(key, "day" + asked), packed(day, splits));
              },
          .find_change = [&file, splits, change_key](
                             const LogbookStore::Keys& before,
                             const LogbookStore::Keys& after) -> std::optional<Comparison> {
            const auto bytes = file.find(change_key(before, after));
            return bytes ? unpacked<Comparison>(*bytes, splits) : std::nullopt;
          },
          .keep_change =
              [&file, splits, change_key](const LogbookStore::Keys& before, const LogbookStore::Keys& after,
                                          const Comparison& change) {
                file.keep(change_key(before, after), packed(change, splits));
              }};
}

void RideCache::save() {
  file_->save();
}

std::string this_program() {
  return digest_of_file("/proc/self/exe").value_or(BOTHWAYS_VERSION);
}

}  // namespace bothways::cli
