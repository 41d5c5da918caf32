#pragma once

#include <optional>
#include <string>

namespace bothways::cli {

/// XXH3 of 128 bits, as 16 bytes: what the cache knows things by. It is no cryptographic digest.
[[nodiscard]] std::string digest(const std::string& bytes);

/// The same of a file; nothing where it cannot be read whole.
[[nodiscard]] std::optional<std::string> digest_of_file(const std::string& path);

}  // namespace bothways::cli
