#include "bothways/log/foreign.hpp"

#include "bothways/log/xml_pull.hpp"

#include <algorithm>
#include <array>

namespace bothways {

namespace {

using namespace std::string_view_literals;

constexpr const char* unpack = "unpack it and give the log in it";
constexpr const char* save_as_csv = "save the sheet as CSV and give that";
constexpr const char* export_as_gpx = "export the ride as GPX and give that";
constexpr const char* none = "";

/// First bytes of files, from the file types' own documents and common practice.
struct Magic {
  std::size_t at;
  std::string_view bytes;
  const char* what;
  const char* remedy;
};
constexpr std::array magics = {
    Magic{0, "\x89PNG"sv, "a PNG picture", none},
    Magic{0, "\xFF\xD8\xFF"sv, "a JPEG picture", none},
    Magic{0, "GIF8"sv, "a GIF picture", none},
    Magic{4, "ftyp"sv, "a film or a picture of a phone", none},
    Magic{0, "%PDF"sv, "a PDF document", export_as_gpx},
    Magic{0, "\x7F\x45\x4C\x46"sv, "a program", none},
    Magic{0, "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"sv, "an old spreadsheet or office document", save_as_csv},
    Magic{257, "ustar"sv, "a tar archive", unpack},
    Magic{0, "BZh"sv, "a bzip2 archive", unpack},
    Magic{0, "\xFD\x37zXZ"sv, "an xz archive", unpack},
    Magic{0, "\x28\xB5\x2F\xFD"sv, "a zstd archive", unpack},
    Magic{0, "7z\xBC\xAF\x27\x1C"sv, "a 7z archive", unpack},
    Magic{0, "Rar!\x1A\x07"sv, "a RAR archive", unpack},
    Magic{0, "SQLite format 3"sv, "a database", export_as_gpx},
    Magic{8, ".FIT"sv, "a binary activity file", export_as_gpx},
    Magic{0, "\xB5\x62"sv, "a receiver's own binary log",
          "have the receiver write NMEA 0183, or convert the log to it"},
};

Foreign starts_like(std::string_view what, std::string_view remedy) {
  return {"it starts like " + std::string(what), std::string(remedy)};
}

/// A ZIP archive by the names of its first files: spreadsheets and packed KML are such archives.
Foreign zip_kind(std::string_view head) {
  constexpr std::size_t name_at = 30;  // of the first file, behind a header of fixed size
  const std::string_view names = head.substr(std::min(name_at, head.size()), 4096);
  const auto has = [](std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
  };
  if (has(head, "xl/w") || has(names, ".iwa") || has(names, "opendocument.spreadsheet")) {
    return starts_like("a spreadsheet", save_as_csv);
  }
  if (names.starts_with("[Content_Types].xml") || names.starts_with("mimetype")) {
    return starts_like("an office document", save_as_csv);
  }
  if (has(names, ".kml")) {
    return starts_like("packed KML (KMZ)", "unpack it and give the KML file in it");
  }
  return starts_like("a ZIP archive", unpack);
}

bool starts_with_ignoring_case(std::string_view text, std::string_view start) {
  return text.size() >= start.size() &&
         std::equal(start.begin(), start.end(), text.begin(), [](char a, char b) {
           return a == (b >= 'A' && b <= 'Z' ? static_cast<char>(b - 'A' + 'a') : b);
         });
}

bool is_web_page(std::string_view text, std::string_view root) {
  return starts_with_ignoring_case(text, "<!doctype html") || starts_with_ignoring_case(root, "html") ||
         starts_with_ignoring_case(root, "head") || starts_with_ignoring_case(root, "body");
}

}  // namespace

Foreign foreign_bytes(std::string_view head) {
  if (head.starts_with("PK\x03\x04")) {
    return zip_kind(head);
  }
  const auto* magic = std::find_if(magics.begin(), magics.end(), [&](const Magic& row) {
    return head.size() > row.at && head.substr(row.at).starts_with(row.bytes);
  });
  return magic == magics.end() ? Foreign{} : starts_like(magic->what, magic->remedy);
}

Foreign foreign_text(std::string_view text) {
  if (text.starts_with("{\\rtf")) {
    return starts_like("a text document of a word processor", export_as_gpx);
  }
  if (text.starts_with('{') || text.starts_with("[{") || text.starts_with("[\n")) {
    return starts_like("JSON", export_as_gpx);
  }
  if (!text.starts_with('<')) {
    return {};
  }
  const std::string_view root = xml_root(text);
  if (is_web_page(text, root)) {
    return {"it is a web page, so the download failed",
            "download the log again, signed in where that is needed"};
  }
  if (root.empty()) {
    return starts_like("XML without any element", none);
  }
  return starts_like("XML of another kind, <" + std::string(root.substr(0, 40)) + ">", export_as_gpx);
}

}  // namespace bothways
