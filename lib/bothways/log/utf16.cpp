#include "bothways/log/bytes.hpp"

#include <cstdint>
#include <cstring>
#include <utility>

namespace bothways {

namespace {

void append_utf8(std::string& to, std::uint32_t c) {
  const auto push = [&to](std::uint32_t byte) { to.push_back(static_cast<char>(byte)); };
  if (c < 0x80) {
    push(c);
  } else if (c < 0x800) {
    push(0xC0U | (c >> 6U));
    push(0x80U | (c & 0x3FU));
  } else if (c < 0x10000) {
    push(0xE0U | (c >> 12U));
    push(0x80U | ((c >> 6U) & 0x3FU));
    push(0x80U | (c & 0x3FU));
  } else {
    push(0xF0U | (c >> 18U));
    push(0x80U | ((c >> 12U) & 0x3FU));
    push(0x80U | ((c >> 6U) & 0x3FU));
    push(0x80U | (c & 0x3FU));
  }
}

class Narrower {
 public:
  Narrower(ByteSource wide, bool big_endian) : wide_(std::move(wide)), big_endian_(big_endian) {}

  std::size_t read(std::span<char> into) {
    if (used_ == ready_.size()) {
      refill();
    }
    const std::size_t count = std::min(into.size(), ready_.size() - used_);
    std::memcpy(into.data(), ready_.data() + used_, count);
    used_ += count;
    return count;
  }

 private:
  void refill() {
    constexpr std::uint32_t replacement = 0xFFFD;
    ready_.clear();
    used_ = 0;
    const std::string bytes = take_bytes(wide_, std::size_t{32} * 1024);
    for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) {
      const auto first = static_cast<unsigned char>(bytes[i]);
      const auto second = static_cast<unsigned char>(bytes[i + 1]);
      const std::uint32_t unit = big_endian_ ? first * 256U + second : second * 256U + first;
      const bool low = unit >= 0xDC00 && unit < 0xE000;
      if (high_ != 0) {
        append_utf8(ready_, low ? 0x10000 + ((high_ - 0xD800) << 10U) + (unit - 0xDC00) : replacement);
      } else if (low) {
        append_utf8(ready_, replacement);
      }
      const bool paired = high_ != 0 && low;
      high_ = unit >= 0xD800 && unit < 0xDC00 ? unit : 0;
      if (high_ == 0 && !low && !paired) {
        append_utf8(ready_, unit);
      }
    }
    if (ready_.empty() && bytes.size() > 1) {  // nothing but half a pair: look further
      refill();
    }
  }

  ByteSource wide_;
  bool big_endian_;
  std::string ready_;
  std::size_t used_ = 0;
  std::uint32_t high_ = 0;  ///< first half of a surrogate pair that waits for its second
};

}  // namespace

ByteSource utf16_to_utf8(ByteSource wide, bool big_endian) {
  const auto narrower = std::make_shared<Narrower>(std::move(wide), big_endian);
  return [narrower](std::span<char> into) { return narrower->read(into); };
}

}  // namespace bothways
