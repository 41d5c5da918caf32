#include "bothways/core/error.hpp"
#include "bothways/log/readers.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace bothways;
using namespace log_test;
using Catch::Contains;

namespace {

using namespace std::string_literals;

/// First bytes of a ZIP archive whose first file has this name.
std::string zip(const std::string& name, const std::string& more = "") {
  return "PK\x03\x04"s + std::string(22, '\0') + static_cast<char>(name.size()) + "\0\0\0"s + name + more;
}

}  // namespace

TEST_CASE("what is no log is refused with what to do about it", "[log]") {
  struct Case {
    std::string bytes;
    const char* what;
    const char* remedy;
  };
  const std::string tar = "ride.gpx" + std::string(249, '\0') + "ustar\00000"s;
  for (const Case& c : {
           Case{zip("[Content_Types].xml", "...xl/workbook.xml"), "like a spreadsheet",
                "save the sheet as CSV"},
           Case{zip("mimetype", "application/vnd.oasis.opendocument.spreadsheet"), "like a spreadsheet",
                "save the sheet as CSV"},
           Case{"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"s + std::string(500, '\0'), "an old spreadsheet",
                "save the sheet as CSV"},
           Case{zip("Index/Document.iwa"), "like a spreadsheet", "save the sheet as CSV"},
           Case{"{\\rtf1\\ansi ride}", "a text document", "export the ride as GPX"},
           Case{zip("doc.kml"), "packed KML", "unpack it"},
           Case{zip("ride.gpx"), "a ZIP archive", "unpack it"},
           Case{tar, "a tar archive", "unpack it"},
           Case{"\x0E\x10\x43\x08\x28\x06\0\0.FIT"s, "a binary activity file", "export the ride as GPX"},
           Case{"<!DOCTYPE html><html><body>Sign in</body></html>", "a web page, so the download failed",
                "download the log again"},
           Case{"\n<HTML><head>", "a web page, so the download failed", "download the log again"},
           Case{"<?xml version=\"1.0\"?><ride/>", "XML of another kind, <ride>", "export the ride as GPX"},
           Case{"{\"type\": \"FeatureCollection\"}", "like JSON", "export the ride as GPX"},
           Case{"\xB5\x62\x01\x07"s, "a receiver's own binary log", "NMEA 0183"},
           Case{"Dear rider,\nno log.\n", "neither NMEA sentences nor CSV", "give a GPX"},
       }) {
    CAPTURE(c.what);
    CHECK_THROWS_WITH(read_text(c.bytes),
                      Contains(c.what) && Contains(c.remedy) && Contains("this is not a ride log"));
  }
}

TEST_CASE("every format is in the table of readers once, under its own name", "[log]") {
  std::set<std::string> keys;
  for (const Reader& reader : readers()) {
    CHECK(keys.insert(reader.key).second);
    CHECK(std::string(to_string(reader.format)) == reader.key);
    CHECK_THAT(format_names(), Contains(reader.name));
  }
}
