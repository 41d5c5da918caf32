#include "bothways/core/error.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace bothways;
using namespace log_test;

namespace {

std::string point(int second, const std::string& inner = "") {
  return fmt::format("<trkpt lat=\"46.5\" lon=\"{:.5f}\"><time>2026-05-04T09:30:{:02}Z</time>{}</trkpt>\n",
                     9.1 + 0.0001 * second, second, inner);
}
std::string gpx(const std::string& points) {
  return "<gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n" + points +
         "</trkseg></trk></gpx>\n";
}

/// Reads a hostile text: whatever comes of it must be a LogError or a log within its limits.
void read_or_refuse(const std::string& text) {
  try {
    const Log log = read_text(text);
    for (const Note& note : log.notes) {
      CHECK(note.text.size() < 1000);
    }
  } catch (const LogError& error) {
    CHECK(std::string(error.what()).size() < 1000);
  }
}

std::string repeated(const std::string& text, std::size_t times) {
  std::string all;
  all.reserve(text.size() * times);
  for (std::size_t i = 0; i < times; ++i) {
    all += text;
  }
  return all;
}

}  // namespace

TEST_CASE("speed is read by its local name from wherever a GPX file puts it", "[log]") {
  // GPX 1.0 [GPX10] has it, 1.1 [GPX11] has not; TrackPointExtension [TPX2]; others as seen in [GPXODD].
  for (const std::string inner : {
           "<speed>7.5</speed>",
           "<extensions><speed>7.5</speed></extensions>",
           "<extensions><gpxdata:speed xmlns:gpxdata=\"http://www.cluetrust.com/XML/GPXDATA/1/0\">7.5"
           "</gpxdata:speed></extensions>",
           "<extensions><x:speed>7.5</x:speed></extensions>",
           "<extensions><a><b><speed> 7.5 </speed></b></a></extensions>",
           "<extensions><speed><![CDATA[7.5]]></speed></extensions>",
           "<extensions><speed>7<!-- -->.5</speed></extensions>",
       }) {
    CAPTURE(inner);
    const Log log = read_text(gpx(point(0, inner)));
    CHECK(log.fixes[0].speed_mps == 7.5);
    CHECK(log.notes.empty());
  }
}

TEST_CASE("a speed outside a point's extensions is not the point's speed", "[log]") {
  const Log log = read_text(gpx("<extensions><speed>9</speed></extensions>" +
                                point(0, "<link><speed>8</speed></link><name>speed</name>")));
  CHECK_FALSE(is_known(log.fixes[0].speed_mps));
}

TEST_CASE("text may come in any pieces", "[log]") {
  const std::string text = gpx(point(0, "<speed>7.25</speed>") + point(1, "<speed>8.25</speed>"));
  const Log whole = read_text(text);
  for (const std::size_t step : {1U, 2U, 3U, 7U}) {
    const Log log = read_log(bytes_of(text, step), "ride");
    REQUIRE(log.fixes.size() == whole.fixes.size());
    CHECK(log.fixes[1].time == whole.fixes[1].time);
    CHECK(log.fixes[1].speed_mps == 8.25);
  }
}

TEST_CASE("positions that are no place on Earth are left out with a note", "[log]") {
  const Log log = read_text(
      gpx(point(0) + "<trkpt lat=\"91\" lon=\"9\"><time>2026-05-04T09:31:00Z</time><speed>5</speed></trkpt>" +
          "<trkpt lat=\"x\" lon=\"9\"><time>2026-05-04T09:31:01Z</time></trkpt>" +
          "<trkpt><time>2026-05-04T09:31:02Z</time></trkpt>"));
  CHECK(log.fixes.size() == 2);
  CHECK_FALSE(is_known(log.fixes[1].lat_deg));
  CHECK_FALSE(is_known(log.fixes[1].lon_deg));
  CHECK(log.fixes[1].speed_mps == 5.0);
  CHECK(find_note(log, "bad-position")->text.substr(0, 9) == "2 positio");
  CHECK(find_note(log, "empty-fix")->text.substr(0, 8) == "2 record");
}

TEST_CASE("hostile XML ends quickly, in little memory", "[log]") {
  SECTION("an entity bomb") {
    std::string text = "<?xml version=\"1.0\"?><!DOCTYPE gpx [<!ENTITY a0 \"ha\">";
    for (int i = 1; i < 30; ++i) {
      text += fmt::format("<!ENTITY a{0} \"&a{1};&a{1};&a{1};&a{1};\">", i, i - 1);
    }
    read_or_refuse(text + "]>" + gpx(point(0, "<name>&a29;</name>") + point(1)));
  }
  SECTION("an external entity is not fetched") {
    read_or_refuse("<?xml version=\"1.0\"?><!DOCTYPE gpx [<!ENTITY e SYSTEM \"file:///etc/passwd\">]>" +
                   gpx(point(0, "<ele>&e;</ele>") + point(1)));
  }
  SECTION("a dictionary of element names") {
    std::string text;
    for (int i = 0; i < 200'000; ++i) {
      text += fmt::format("<name{}/>", i);
    }
    read_or_refuse(gpx(point(0) + text));
  }
  SECTION("a dictionary of name spaces") {
    std::string text;
    for (int i = 0; i < 100'000; ++i) {
      text += fmt::format("<a xmlns:p{0}=\"http://example.invalid/{0}\"/>", i);
    }
    read_or_refuse(gpx(point(0) + text));
  }
  SECTION("a tag with a great many attributes") {
    std::string text = "<trkpt";
    for (int i = 0; i < 200'000; ++i) {
      text += fmt::format(" a{}=\"1\"", i);
    }
    read_or_refuse(gpx(point(0) + text + "/>"));
  }
  SECTION("deep nesting") {
    read_or_refuse(gpx(point(0) + repeated("<a>", 200'000)));
  }
  SECTION("one huge text, comment, attribute, CDATA") {
    const std::string huge(12'000'000, 'x');
    read_or_refuse(gpx(point(0, "<time>" + huge + "</time>")));
    read_or_refuse(gpx(point(0, "<!--" + huge + "-->")));
    read_or_refuse(gpx("<trkpt lat=\"" + huge + "\" lon=\"9\"/>"));
    read_or_refuse(gpx(point(0, "<name><![CDATA[" + huge + "]]></name>")));
  }
  SECTION("points without anything") {
    read_or_refuse(gpx(repeated("<trkpt/>", 500'000)));
  }
  SECTION("a million blanks before the end tag, then nothing") {
    read_or_refuse(gpx(point(0)) + std::string(1'000'000, ' '));
  }
}

TEST_CASE("what stands before the break in an XML file is used", "[log]") {
  const Log log = read_text(gpx(point(0) + point(1) + "<trkpt lat=\"1\" lon=\"2\"></trkseg>" + point(2)));
  CHECK(log.fixes.size() == 2);
  REQUIRE(find_note(log, "broken-xml") != nullptr);
  CHECK(find_note(log, "broken-xml")->line == 4);
}

TEST_CASE("a limit of fixes holds and is noted", "[log]") {
  const Log log = read_text(gpx(point(0) + point(1) + point(2) + point(3)), {.fixes = 2});
  CHECK(log.fixes.size() == 2);
  CHECK(find_note(log, "too-many-fixes") != nullptr);
  CHECK(find_note(log, "broken-xml") == nullptr);
}

TEST_CASE("an over-long value is left out with a note", "[log]") {
  const Log log = read_text(gpx(point(0, "<ele>" + std::string(300, '1') + "</ele>")));
  CHECK_FALSE(is_known(log.fixes[0].ele_m));
  CHECK(find_note(log, "long-text") != nullptr);
}

TEST_CASE("a failing source is an error, not a short log", "[log]") {
  const ByteSource failing = [left = gpx(point(0) + point(1))](std::span<char> into) mutable -> std::size_t {
    if (left.empty()) {
      throw LogError("ride", 0, "the disk is gone");
    }
    const std::size_t count = std::min<std::size_t>(into.size(), left.size());
    std::copy_n(left.begin(), count, into.begin());
    left.erase(0, count);
    return count;
  };
  CHECK_THROWS_WITH(read_log(failing, "ride"), "ride: the disk is gone");
}

TEST_CASE("a bare ampersand in a name does not cost the rest of the ride", "[log]") {
  for (const char* name : {"Hill & Dale", "A&B", "&", "&&", "<b>tea &coffee</b>"}) {
    CAPTURE(name);
    const Log log = read_text(gpx(point(0) + "<name>" + name + "</name>" + point(1) + point(2)));
    CHECK(log.fixes.size() == 3);
    REQUIRE(find_note(log, "bare-ampersand") != nullptr);
    CHECK(find_note(log, "broken-xml") == nullptr);
  }
}

TEST_CASE("a bare ampersand or an unknown entity spoils the figure it stands in, and only that", "[log]") {
  for (const char* slip : {"&", "&nbsp;", "&x"}) {
    CAPTURE(slip);
    const std::string joined = std::string("1") + slip + "2";
    const Log figure = read_text(gpx(point(0) + point(1, "<ele>" + joined + "</ele>") + point(2)));
    CHECK(figure.fixes.size() == 3);
    CHECK_FALSE(is_known(figure.fixes[1].ele_m));
    const Log place =
        read_text(gpx(point(0) + "<trkpt lat=\"" + joined + "\" lon=\"9\"><time>2026-05-04T09:30:01Z</time>" +
                      "<speed>5</speed></trkpt>" + point(2)));
    REQUIRE(place.fixes.size() == 3);
    CHECK_FALSE(is_known(place.fixes[1].lat_deg));
    CHECK(place.fixes[2].lat_deg == 46.5);
    CHECK(find_note(place, "broken-xml") == nullptr);
  }
}

TEST_CASE("an entity of a document type spoils the figure it stands in", "[log]") {
  const std::string type = "<!DOCTYPE gpx SYSTEM \"ride.dtd\" [<!ENTITY e \"5\">]>";
  const Log log = read_text(type + gpx(point(0) + point(1, "<ele>1&e;2</ele>") + point(2)));
  REQUIRE(log.fixes.size() == 3);
  CHECK_FALSE(is_known(log.fixes[1].ele_m));
}

TEST_CASE("names of characters that are none of XML's do not cost the rest of the ride", "[log]") {
  const Log log = read_text(gpx(
      point(0) + "<name>H&uuml;gel&nbsp;&amp; Tal</name><link href=\"http://example.invalid/?a=1&b=2\"/>" +
      point(1) + point(2, "<ele>5&#48;</ele>")));
  CHECK(log.fixes.size() == 3);
  CHECK(log.fixes[2].ele_m == 50.0);
  REQUIRE(find_note(log, "unknown-entity") != nullptr);
  CHECK(find_note(log, "unknown-entity")->text.substr(0, 2) == "2 ");
  CHECK(find_note(log, "bare-ampersand") != nullptr);
  CHECK(find_note(log, "broken-xml") == nullptr);
}

TEST_CASE("after a bare ampersand other breaks still end the reading", "[log]") {
  const Log log = read_text(gpx(point(0) + "<name>A & B</name>" + point(1) + "</trk>" + point(2)));
  CHECK(log.fixes.size() == 2);
  CHECK(find_note(log, "bare-ampersand") != nullptr);
  CHECK(find_note(log, "broken-xml") != nullptr);
}

TEST_CASE("only so many bare ampersands are passed over", "[log]") {
  const Log log = read_text(gpx(point(0) + "<name>" + std::string(1'000'000, '&') + "</name>" + point(1)));
  CHECK(log.fixes.size() == 1);
  CHECK(find_note(log, "broken-xml") != nullptr);
}

TEST_CASE("GPX in other encodings reads as in UTF-8, whichever library decodes it", "[log]") {
  // Not UTF-8, so that only who decodes them finds the tags whole; of ISO-2022-JP the second letter is two
  // bytes of which one looks like "<", of Shift_JIS the second byte looks like a backslash.
  struct Encoded {
    const char* encoding;
    std::string name;
  };
  for (const auto& [encoding, name] :
       {Encoded{"ISO-8859-1", "caf\xE9"}, Encoded{"ISO-8859-15", "5 \xA4"}, Encoded{"windows-1252", "\x80 5"},
        Encoded{"windows-1251", "\xE4\xEE\xEC"}, Encoded{"KOI8-R", "\xC4\xCF\xCD"},
        Encoded{"Shift_JIS", "\x83\x5C\x83\x8C"}, Encoded{"EUC-JP", "\xA5\xBD"},
        Encoded{"ISO-2022-JP", "\x1B$B$<\x1B(B"}, Encoded{"GB18030", "\xC2\xB7"},
        Encoded{"Big5", "\xB8\xF4"}}) {
    CAPTURE(encoding);
    const std::string head = fmt::format("<?xml version=\"1.0\" encoding=\"{}\"?>\n", encoding);
    const Log log = read_text(head + gpx("<!-- " + name + " -->" + point(0, "<name>" + name + "</name>") +
                                         point(1, "<speed>7.5</speed>")));
    CHECK(log.notes.empty());
    REQUIRE(log.fixes.size() == 2);
    CHECK(log.fixes[1].speed_mps == 7.5);
  }
  std::string wide = "\xFF\xFE";
  for (const char c : "<?xml version=\"1.0\" encoding=\"UTF-16\"?>" + gpx(point(0) + point(1))) {
    wide += {c, '\0'};
  }
  CHECK(read_text(wide).fixes.size() == 2);
}

TEST_CASE("an encoding that nobody knows is named as the reason why nothing was read", "[log]") {
  const auto reading = [] {
    return read_text("<?xml version=\"1.0\" encoding=\"x-no-such\"?>\n" + gpx(point(0)));
  };
  CHECK_THROWS_WITH(reading(), Catch::Matchers::Contains("x-no-such"));
}
