#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/core/estimate.hpp"
#include "bothways/core/geodesy.hpp"
#include "bothways/core/split_spec.hpp"
#include "bothways/core/time.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/report/ride_fields.hpp"
#include "bothways/run/run.hpp"
#include "bothways/run/trace.hpp"

#include <algorithm>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace bothways::cli {

// Values as bytes, for the cache: to the last bit, NaN included. Only the very program that wrote them reads
// them. Structs go by their fields (report/ride_fields.hpp, cli/logbook_fields.hpp); a split is known by its
// place among those asked.

template <typename T, typename... Ts>
concept one_of = (std::same_as<T, Ts> || ...);

/// What is copied as it lies in memory: figures without a gap between them.
template <typename T>
concept Flat = std::is_arithmetic_v<T> || std::is_enum_v<T> ||
    one_of<T, Instant, LatLon, Estimate, Range, SpeedEdge, TracePoint, PartOfLog, Budget, SensitiveBand>;

static_assert(sizeof(TracePoint) == 2 * sizeof(double) && sizeof(Estimate) == 4 * sizeof(double) &&
              sizeof(SpeedEdge) == 4 * sizeof(double) && sizeof(Budget) == 7 * sizeof(double) &&
              sizeof(SensitiveBand) == 5 * sizeof(double) && sizeof(PartOfLog) == 2 * sizeof(double));

class Packer {
 public:
  explicit Packer(const std::vector<SplitSpec>& splits) : splits_(splits) {}

  template <typename T>
  void operator()(const char* /*key*/, const T& value) {
    put(value);
  }

  template <Flat T>
  void put(const T& value) {
    put_raw(&value, sizeof value);
  }
  void put(const std::string& text) {
    put_size(text.size());
    put_raw(text.data(), text.size());
  }
  void put(const SplitSpec& spec) {
    const auto found = std::find_if(splits_.begin(), splits_.end(),
                                    [&](const SplitSpec& other) { return other.name == spec.name; });
    put_size(static_cast<std::size_t>(found - splits_.begin()));
  }
  template <typename T>
  void put(const std::optional<T>& value) {
    put(value.has_value());
    if (value) {
      put(*value);
    }
  }
  template <typename T>
  void put(const std::vector<T>& values) {
    put_size(values.size());
    if constexpr (Flat<T>) {
      put_raw(values.data(), values.size() * sizeof(T));
    } else {
      for (const T& value : values) {
        put(value);
      }
    }
  }
  template <typename T>
  void put(const T& value) {
    visit(*this, value);
  }

  [[nodiscard]] std::string take() { return std::move(bytes_); }

 private:
  void put_size(std::size_t size) { put(static_cast<std::uint32_t>(size)); }
  void put_raw(const void* from, std::size_t size) { bytes_.append(static_cast<const char*>(from), size); }

  const std::vector<SplitSpec>& splits_;
  std::string bytes_;
};

/// Takes them out again. @throws std::out_of_range  where they end too soon, or a split was not asked
class Unpacker {
 public:
  Unpacker(std::string_view bytes, const std::vector<SplitSpec>& splits) : rest_(bytes), splits_(splits) {}

  template <typename T>
  void operator()(const char* /*key*/, T& value) {
    get(value);
  }

  template <Flat T>
  void get(T& value) {
    std::memcpy(&value, take(sizeof value).data(), sizeof value);
  }
  void get(std::string& text) { text = take(get_size()); }
  void get(SplitSpec& spec) { spec = splits_.at(get_size()); }
  template <typename T>
  void get(std::optional<T>& value) {
    bool there = false;
    get(there);
    value.reset();
    if (there) {
      get(value.emplace());
    }
  }
  template <typename T>
  void get(std::vector<T>& values) {
    const std::size_t size = get_size();
    if constexpr (Flat<T>) {
      const std::string_view raw = take(size * sizeof(T));
      values.resize(size);
      if (size > 0) {  // an empty list has no address to copy to
        std::memcpy(values.data(), raw.data(), raw.size());
      }
    } else {
      if (size > rest_.size()) {  // each value has a byte at least
        throw std::out_of_range("list");
      }
      values.resize(size);
      for (T& value : values) {
        get(value);
      }
    }
  }
  template <typename T>
  void get(T& value) {
    visit(*this, value);
  }

  [[nodiscard]] bool at_end() const { return rest_.empty(); }

 private:
  std::size_t get_size() {
    std::uint32_t size = 0;
    get(size);
    return size;
  }

  std::string_view take(std::size_t size) {
    if (size > rest_.size()) {
      throw std::out_of_range("bytes");
    }
    const std::string_view taken = rest_.substr(0, size);
    rest_.remove_prefix(size);
    return taken;
  }

  std::string_view rest_;
  const std::vector<SplitSpec>& splits_;
};

/// @param splits  that were asked
template <typename T>
[[nodiscard]] std::string packed(const T& value, const std::vector<SplitSpec>& splits) {
  Packer packer(splits);
  packer.put(value);
  return packer.take();
}

/// @return  nothing where the bytes are no T
template <typename T>
[[nodiscard]] std::optional<T> unpacked(std::string_view bytes, const std::vector<SplitSpec>& splits) {
  try {
    Unpacker unpacker(bytes, splits);
    T value;
    unpacker.get(value);
    return unpacker.at_end() ? std::optional(std::move(value)) : std::nullopt;
  } catch (const std::out_of_range&) {
    return std::nullopt;
  }
}

}  // namespace bothways::cli
