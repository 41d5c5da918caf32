#include "bothways/log/sniff.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/bytes.hpp"
#include "bothways/log/foreign.hpp"

#include <algorithm>

namespace bothways {

namespace {

/// UTF-16 by its mark, or by every other byte of the beginning being 0.
Wide wide_of(std::string_view head) {
  if (head.starts_with("\xFF\xFE")) {
    return Wide::little_endian;
  }
  if (head.starts_with("\xFE\xFF")) {
    return Wide::big_endian;
  }
  if (head.size() >= 4 && head[0] != '\0' && head[1] == '\0' && head[2] != '\0' && head[3] == '\0') {
    return Wide::little_endian;
  }
  if (head.size() >= 4 && head[0] == '\0' && head[1] != '\0' && head[2] == '\0' && head[3] != '\0') {
    return Wide::big_endian;
  }
  return Wide::no;
}

std::string narrowed(std::string_view head, Wide wide) {
  const ByteSource none = [](std::span<char>) { return std::size_t{0}; };
  const ByteSource narrow = utf16_to_utf8(with_head(std::string(head), none), wide == Wide::big_endian);
  return take_bytes(narrow, 2 * head.size());
}

bool is_text(std::string_view text) {
  return std::none_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f';
  });
}

Sniffed foreign(Foreign known) {
  return {Content::foreign, Wide::no, nullptr, std::move(known.what), std::move(known.remedy)};
}

/// What a text that is no log is, or what it lacks.
Sniffed sniff_other(std::string_view text) {
  if (Foreign known = foreign_text(text); !known.what.empty()) {
    return foreign(std::move(known));
  }
  if (!is_text(text)) {
    return foreign({"it starts like binary data", {}});
  }
  for (const Reader& reader : readers()) {
    if (std::string lack = reader.lacks(text); !lack.empty()) {
      return foreign({std::move(lack), {}});
    }
  }
  return foreign({"it is text, but neither NMEA sentences nor CSV with a header", {}});
}

Sniffed sniff_narrow(std::string_view head) {
  if (head.starts_with(utf8_bom)) {
    head.remove_prefix(utf8_bom.size());
  }
  const std::string_view text = trimmed(head);
  if (text.empty()) {
    return {};
  }
  for (const Reader& reader : readers()) {
    if (reader.claims(text)) {
      return {Content::log, Wide::no, &reader, {}, {}};
    }
  }
  return sniff_other(text);
}

}  // namespace

Sniffed sniff(std::string_view head) {
  if (head.starts_with("\x1F\x8B")) {
    return {Content::gzip, Wide::no, nullptr, {}, {}};
  }
  if (Foreign known = foreign_bytes(head); !known.what.empty()) {
    return foreign(std::move(known));
  }
  const Wide wide = wide_of(head);
  if (wide == Wide::no) {
    return sniff_narrow(head);
  }
  Sniffed found = sniff_narrow(narrowed(head, wide));
  found.wide = wide;
  return found;
}

}  // namespace bothways
