#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>

#ifdef __SSE2__
#include <emmintrin.h>
#endif

namespace bothways {

/// Some of 16 places, from the first to the last.
class Lanes {
 public:
  /// @param bits  bit i: place i
  explicit Lanes(unsigned bits) : bits_(bits) {}

  [[nodiscard]] bool any() const { return bits_ != 0; }
  /// The first of them; 16 if there is none.
  [[nodiscard]] std::size_t first() const {
    return static_cast<std::size_t>(std::countr_zero(bits_ | 0x1'0000U));
  }
  void drop_first() { bits_ &= bits_ - 1; }
  /// Those before `place`, 0..16.
  [[nodiscard]] Lanes before(std::size_t place) const { return Lanes(bits_ & ((1U << place) - 1U)); }

 private:
  unsigned bits_;
};

/// 16 bytes of text at a time (vectors of g++ and clang++: SSE2, NEON, or plain integers). A byte at a time,
/// reading NMEA takes 1.30 times the instructions and 1.4 times the CPU time (tests/bench/README.md).
class Bytes16 {
 public:
  static constexpr std::size_t size = 16;

  /// 16 bytes of `text` from `at` on. Near the end they are the last 16, and those before `at` read as 0; of
  /// a text that is shorter, all, with zeros behind. Reads no byte outside.
  /// @param at  < text.size(); after the call where lane 0 stands
  static Bytes16 load(std::string_view text, std::size_t& at) {
    Bytes16 block;
    const std::size_t left = text.size() - at;
    if (left >= size) {
      std::memcpy(&block.bytes_, text.data() + at, size);
    } else if (text.size() >= size) {
      at = text.size() - size;
      std::memcpy(&block.bytes_, text.data() + at, size);
      block.bytes_ &= ~first_lanes(size - left);
    } else {
      std::array<char, size> padded{};
      std::memcpy(padded.data() + at, text.data() + at, left);
      std::memcpy(&block.bytes_, padded.data(), size);
      at = 0;
    }
    return block;
  }

  void add(const Bytes16& other) { bytes_ ^= other.bytes_; }

  /// The first `count` bytes, the others 0.
  [[nodiscard]] Bytes16 first(std::size_t count) const {
    Bytes16 kept;
    kept.bytes_ = bytes_ & first_lanes(count);
    return kept;
  }

  [[nodiscard]] Lanes where(char a) const { return lanes(bytes_ == static_cast<unsigned char>(a)); }
  [[nodiscard]] Lanes where(char a, char b, char c) const {
    return lanes((bytes_ == static_cast<unsigned char>(a)) | (bytes_ == static_cast<unsigned char>(b)) |
                 (bytes_ == static_cast<unsigned char>(c)));
  }

  /// XOR of all 16 bytes.
  [[nodiscard]] std::uint8_t folded() const {
    std::array<std::uint64_t, 2> half{};
    std::memcpy(half.data(), &bytes_, size);
    std::uint64_t wide = half[0] ^ half[1];
    wide ^= wide >> 32U;
    wide ^= wide >> 16U;
    wide ^= wide >> 8U;
    return static_cast<std::uint8_t>(wide);
  }

 private:
  using Vector = unsigned char __attribute__((vector_size(16)));

  static Vector first_lanes(std::size_t count) {
    alignas(2 * size) static constexpr std::array<unsigned char, 2 * size> edge = {
        0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF};
    Vector mask;
    std::memcpy(&mask, edge.data() + size - count, size);
    return mask;
  }

  /// @param mask  a vector, each byte 0 or all ones
  template <typename Mask>
  static Lanes lanes(const Mask& mask) {
#ifdef __SSE2__
    __m128i all;
    std::memcpy(&all, &mask, size);
    return Lanes(static_cast<unsigned>(_mm_movemask_epi8(all)));
#else
    constexpr std::uint64_t own_bit =
        std::endian::native == std::endian::little ? 0x8040'2010'0804'0201U : 0x0102'0408'1020'4080U;
    constexpr std::uint64_t sum = 0x0101'0101'0101'0101U;
    std::array<std::uint64_t, 2> half{};
    std::memcpy(half.data(), &mask, size);
    const std::uint64_t low = ((half[0] & own_bit) * sum) >> 56U;
    const std::uint64_t high = ((half[1] & own_bit) * sum) >> 56U;
    return Lanes(static_cast<unsigned>(low | (high << 8U)));
#endif
  }

  Vector bytes_{};
};

}  // namespace bothways
