#include "cli/digest.hpp"

#define XXH_INLINE_ALL
#include <xxhash.h>

#include <array>
#include <cstddef>
#include <fstream>
#include <ios>

namespace bothways::cli {

namespace {

std::string bytes_of(const XXH128_hash_t& hash) {
  XXH128_canonical_t bytes;
  XXH128_canonicalFromHash(&bytes, hash);
  return {std::begin(bytes.digest), std::end(bytes.digest)};
}

}  // namespace

std::string digest(const std::string& bytes) {
  return bytes_of(XXH3_128bits(bytes.data(), bytes.size()));
}

std::optional<std::string> digest_of_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  XXH3_state_t state;
  XXH3_128bits_reset(&state);
  std::array<char, 1U << 16U> block;  // NOLINT(*-member-init): read into
  while (file) {
    file.read(block.data(), block.size());
    XXH3_128bits_update(&state, block.data(), static_cast<std::size_t>(file.gcount()));
  }
  return file.eof() ? std::optional(bytes_of(XXH3_128bits_digest(&state))) : std::nullopt;
}

}  // namespace bothways::cli
