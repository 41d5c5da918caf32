#include "bothways/report/escape.hpp"

#include <algorithm>
#include <cstdint>

namespace bothways {

namespace {

struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 0;  ///< 0: no UTF-8 here
};

std::size_t sequence_length(unsigned char lead) {
  if (lead < 0x80) {
    return 1;
  }
  if (lead >= 0xC2 && lead <= 0xDF) {
    return 2;
  }
  if (lead >= 0xE0 && lead <= 0xEF) {
    return 3;
  }
  return lead >= 0xF0 && lead <= 0xF4 ? 4 : 0;
}

/// Well-formed UTF-8 only (Unicode, table 3-7): no overlong forms, no surrogates, nothing above U+10FFFF.
CodePoint decode(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  const std::size_t length = sequence_length(lead);
  if (length == 0 || text.size() < length) {
    return {};
  }
  if (length == 1) {
    return {lead, 1};
  }
  std::uint32_t value = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if ((byte & 0xC0U) != 0x80U) {
      return {};
    }
    value = (value << 6U) | (byte & 0x3FU);
  }
  const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
  const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  return overlong || surrogate || value > 0x10FFFF ? CodePoint{} : CodePoint{value, length};
}

void append_hex(std::string& out, const char* prefix, std::uint32_t value, int digits) {
  static constexpr std::string_view hex = "0123456789abcdef";
  out += prefix;
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) {
    out += hex[(value >> static_cast<unsigned>(shift)) & 0xFU];
  }
}

bool is_control(std::uint32_t c) {
  return c < 0x20 || (c >= 0x7F && c <= 0x9F);
}

bool turns_direction(std::uint32_t c) {
  return c == 0x200E || c == 0x200F || c == 0x061C || (c >= 0x202A && c <= 0x202E) ||
         (c >= 0x2066 && c <= 0x2069) || c == 0x2028 || c == 0x2029;
}

bool is_combining(std::uint32_t c) {
  return (c >= 0x300 && c <= 0x36F) || (c >= 0x1AB0 && c <= 0x1AFF) || (c >= 0x20D0 && c <= 0x20FF) ||
         (c >= 0xFE00 && c <= 0xFE0F) || (c >= 0xFE20 && c <= 0xFE2F) || c == 0x200B || c == 0x200C ||
         c == 0x200D || c == 0xFEFF;
}

bool is_wide(std::uint32_t c) {
  return (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) || (c >= 0xAC00 && c <= 0xD7A3) ||
         (c >= 0xF900 && c <= 0xFAFF) || (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
         (c >= 0xFFE0 && c <= 0xFFE6) || (c >= 0x1F300 && c <= 0x1FAFF) || (c >= 0x20000 && c <= 0x3FFFD);
}

std::string cleaned(std::string_view text, bool controls_too) {
  if (is_plain(text)) {
    return std::string(text);
  }
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const CodePoint c = decode(text);
    if (c.bytes == 0) {
      append_hex(out, "\\x", static_cast<unsigned char>(text.front()), 2);
    } else if (controls_too && is_control(c.value)) {
      append_hex(out, "\\x", c.value, 2);
    } else if (controls_too && turns_direction(c.value)) {
      append_hex(out, "\\u", c.value, 4);
    } else {
      out += text.substr(0, c.bytes);
    }
    text.remove_prefix(c.bytes == 0 ? 1 : c.bytes);
  }
  return out;
}

}  // namespace

bool is_plain(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c <= 0x7E; });
}

std::string escaped(std::string_view text) {
  return cleaned(text, true);
}

std::string valid_utf8(std::string_view text) {
  return cleaned(text, false);
}

std::size_t display_width(std::string_view text) {
  if (is_plain(text)) {
    return text.size();
  }
  std::size_t width = 0;
  while (!text.empty()) {
    const CodePoint c = decode(text);
    if (!is_combining(c.value)) {
      width += is_wide(c.value) ? 2U : 1U;
    }
    text.remove_prefix(c.bytes == 0 ? 1 : c.bytes);
  }
  return width;
}

}  // namespace bothways
