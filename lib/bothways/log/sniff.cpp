#include "bothways/log/sniff.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/bytes.hpp"
#include "bothways/log/csv_columns.hpp"
#include "bothways/log/nmea_sentence.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>
#include <array>

namespace bothways {

namespace {

struct Magic {
  std::string_view bytes;
  const char* what;
};

using namespace std::string_view_literals;

constexpr std::array magics = {
    Magic{"\x89PNG"sv, "a PNG picture"},
    Magic{"\xFF\xD8\xFF"sv, "a JPEG picture"},
    Magic{"GIF8"sv, "a GIF picture"},
    Magic{"%PDF"sv, "a PDF document"},
    Magic{"\x7F"
          "ELF"sv,
          "a program"},
    Magic{"PK\x03\x04"sv, "a ZIP archive (unpack it first)"},
    Magic{"BZh"sv, "a bzip2 archive (unpack it first)"},
    Magic{"\xFD"
          "7zXZ"sv,
          "an xz archive (unpack it first)"},
    Magic{"\x28\xB5\x2F\xFD"sv, "a zstd archive (unpack it first)"},
    Magic{"SQLite format 3"sv, "a database"},
};

bool starts_with(std::string_view text, std::string_view prefix) {
  return text.substr(0, prefix.size()) == prefix;
}

/// UTF-16 by its mark, or by every other byte of the beginning being 0.
Wide wide_of(std::string_view head) {
  if (starts_with(head, "\xFF\xFE")) {
    return Wide::little_endian;
  }
  if (starts_with(head, "\xFE\xFF")) {
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

/// Name of the first element of an XML text, with its prefix.
std::string_view first_element(std::string_view text) {
  for (std::size_t at = text.find('<'); at != std::string_view::npos; at = text.find('<', at)) {
    if (starts_with(text.substr(at), "<!--")) {
      at = text.find("-->", at);
      if (at == std::string_view::npos) {
        return {};
      }
    } else if (starts_with(text.substr(at), "<?") || starts_with(text.substr(at), "<!")) {
      ++at;
    } else {
      const std::string_view name = text.substr(at + 1);
      return name.substr(0, std::min(name.find_first_of(" \t\r\n/>"), name.size()));
    }
  }
  return {};
}

bool is_gpx_name(std::string_view name) {
  const auto colon = name.find(':');
  return (colon == std::string_view::npos ? name : name.substr(colon + 1)) == "gpx";
}

bool has_sentence(std::string_view text) {
  for (std::size_t at = text.find('$'); at != std::string_view::npos; at = text.find('$', at + 1)) {
    if (sentence_kind(text.substr(at + 1, 6)) != SentenceKind::other) {
      return true;
    }
  }
  return false;
}

bool is_text(std::string_view text) {
  return std::none_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f';
  });
}

/// What a text that is no log is, or what it lacks.
std::string text_kind(std::string_view text) {
  if (text.front() == '$') {
    return "no sentence in it gives a position (RMC, GGA, GNS or GLL)";
  }
  const CsvColumns columns = read_csv_header(csv_header_line(text));
  if (columns.has_results()) {
    return "it holds times that this program has written";
  }
  const bool time = columns.find(CsvRole::time).has_value();
  if (const auto unread = columns.unread_speed(); time && unread) {
    return "its column \"" + columns.names[*unread] +
           "\" is no speed in a known unit (name it speed_mps, speed_kmh, speed_mph or speed_kn) and there "
           "is "
           "no lat and lon";
  }
  if (time) {
    return "it has a time column, but neither lat and lon nor a speed with its unit (speed_kmh)";
  }
  if (columns.has_place() || columns.has_speed() || looks_like_header(columns)) {
    return "its header names no time column (time, time_unix_s or time_unix_ms)";
  }
  return "it is text, but neither NMEA sentences nor CSV with a header";
}

Sniffed sniff_narrow(std::string_view head) {
  if (starts_with(head, utf8_bom)) {
    head.remove_prefix(utf8_bom.size());
  }
  const std::string_view text = trimmed(head);
  if (text.empty()) {
    return {};
  }
  if (text.front() == '<') {
    const std::string_view name = first_element(text);
    if (is_gpx_name(name)) {
      return {Content::gpx, Wide::no, {}};
    }
    return {Content::xml, Wide::no,
            name.empty() ? std::string("XML without any element")
                         : "XML of another kind, <" + std::string(name.substr(0, 40)) + ">"};
  }
  if (is_csv_log_header(text)) {
    return {Content::csv, Wide::no, {}};
  }
  if (has_sentence(text)) {
    return {Content::nmea, Wide::no, {}};
  }
  if (is_text(text)) {
    return {Content::text, Wide::no, text_kind(text)};
  }
  return {Content::foreign, Wide::no, "binary data"};
}

}  // namespace

Sniffed sniff(std::string_view head) {
  if (starts_with(head, "\x1F\x8B")) {
    return {Content::gzip, Wide::no, "a gzip archive"};
  }
  for (const Magic& magic : magics) {
    if (starts_with(head, magic.bytes)) {
      return {Content::foreign, Wide::no, magic.what};
    }
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
