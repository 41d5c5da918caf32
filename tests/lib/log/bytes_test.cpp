#include "bothways/log/bytes.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/lines.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>
#include <zlib.h>

#include <algorithm>
#include <vector>

using namespace bothways;
using namespace log_test;

namespace {

std::string zipped(const std::string& text) {
  z_stream stream{};
  REQUIRE(deflateInit2(&stream, 9, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) == Z_OK);
  std::string packed(deflateBound(&stream, text.size()) + 64, '\0');
  std::string copy = text;
  stream.next_in = reinterpret_cast<Bytef*>(copy.data());
  stream.avail_in = static_cast<uInt>(copy.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  REQUIRE(deflate(&stream, Z_FINISH) == Z_STREAM_END);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  return packed;
}

std::string drained(const ByteSource& source, std::size_t step = 777) {
  std::string all;
  std::vector<char> block(step);
  for (std::size_t got = source(block); got > 0; got = source(block)) {
    all.append(block.data(), got);
  }
  return all;
}

std::string ride(int points) {
  std::string text;
  for (int i = 0; i < points; ++i) {
    text += sentence("GPRMC,09" + std::to_string(10 + i / 50 % 50) + std::to_string(10 + i % 50) +
                     ".00,A,4630.00000,N,00906.00000,E,1.0,90.0,040526,,,A");
  }
  return text;
}

std::vector<std::string> lines_of(const std::string& text, std::size_t step, std::size_t longest = 100) {
  const ByteSource source = bytes_of(text, step);
  LineReader reader(source, longest);
  std::vector<std::string> lines;
  while (reader.next()) {
    lines.emplace_back(reader.line());
  }
  return lines;
}

}  // namespace

TEST_CASE("gzip members are unpacked one after the other", "[log]") {
  const Gunzip unpacked = gunzip(bytes_of(zipped("one,") + zipped("two"), 5));
  CHECK(drained(unpacked.source) == "one,two");
  CHECK(*unpacked.end == GzipEnd::whole);
}

TEST_CASE("a gzip file that ends early or is damaged gives what came before", "[log]") {
  const std::string text = ride(2500);
  const std::string packed = zipped(text);
  const Log whole = read_text(packed);
  CHECK(whole.notes.empty());

  const Log cut = read_text(packed.substr(0, packed.size() / 2));
  CHECK(cut.fixes.size() < whole.fixes.size());
  CHECK(find_note(cut, "cut-off") != nullptr);

  std::string damaged = packed;
  damaged[damaged.size() / 2] = static_cast<char>(~damaged[damaged.size() / 2]);
  const Gunzip broken = gunzip(bytes_of(damaged));
  static_cast<void>(drained(broken.source));
  CHECK(*broken.end == GzipEnd::damaged);

  CHECK_THROWS_AS(read_text(packed.substr(0, 12)), LogError);
  CHECK_THROWS_WITH(read_text(zipped(zipped(text))), Catch::Contains("inside a gzip archive"));
}

TEST_CASE("what stands behind the last gzip member is passed over", "[log]") {
  const std::string text = ride(20);
  for (const std::string& garbage :
       {std::string(1000, '\0'), std::string("PK garbage"), std::string("\x1f")}) {
    const Log log = read_text(zipped(text) + garbage);
    CHECK(log.fixes.size() == read_text(text).fixes.size());
  }
}

TEST_CASE("a gzip bomb is stopped", "[log]") {
  const Gunzip bomb = gunzip(bytes_of(zipped(std::string(std::size_t{100} << 20U, ' ')), 1U << 16U));
  CHECK(drained(bomb.source, 1U << 16U).size() <= (std::size_t{66} << 20U));
  CHECK(*bomb.end == GzipEnd::damaged);
}

TEST_CASE("UTF-16 becomes UTF-8, pairs and halves included", "[log]") {
  // U+00E9, U+20AC, U+1F6F5 (a surrogate pair), then a lone high half: little-endian.
  const std::string wide(
      "a\0\xE9\0\xAC\x20\x3D\xD8\xF5\xDE\x3D\xD8"
      "b\0",
      14);
  CHECK(drained(utf16_to_utf8(bytes_of(wide), false)) ==
        "a\xC3\xA9\xE2\x82\xAC\xF0\x9F\x9B\xB5\xEF\xBF\xBD"
        "b");
  CHECK(drained(utf16_to_utf8(bytes_of(std::string("\0a\0b", 4)), true)) == "ab");
}

TEST_CASE("lines end in LF, CR LF, or CR where there is no LF", "[log]") {
  const std::vector<std::string> abc = {"a", "b", "c"};
  for (const std::size_t step : {1U, 2U, 1000U}) {
    CHECK(lines_of("a\nb\nc\n", step) == abc);
    CHECK(lines_of("a\r\nb\r\nc", step) == abc);
    CHECK(lines_of("a\rb\rc\r", step) == abc);
    CHECK(lines_of("a\n\nc", step) == std::vector<std::string>{"a", "", "c"});
    CHECK(lines_of("", step).empty());
  }
}

TEST_CASE("a line longer than the limit is skipped, its number counted", "[log]") {
  for (const std::size_t length : {101U, 1000U, 1'000'000U}) {
    CAPTURE(length);
    const std::string text = "a\n" + std::string(length, 'x') + "\nb\n";
    const ByteSource source = bytes_of(text, 5000);
    LineReader reader(source, 100);
    REQUIRE(reader.next());
    REQUIRE(reader.next());
    CHECK(reader.line() == "b");
    CHECK(reader.number() == 3);
    CHECK_FALSE(reader.next());
    CHECK(reader.too_long().count == 1);
    CHECK(reader.too_long().first_line == 2);
  }
}

TEST_CASE("a file that cannot be read says why and what to do", "[log]") {
  CHECK_THROWS_WITH(read_log("/no/such/ride.gpx"),
                    "/no/such/ride.gpx: there is no such file; check the name");
  CHECK_THROWS_WITH(read_log("/"), "/: it is a folder, not a log; give a file in it");
}

TEST_CASE("a head and the rest come in order, and the source is asked for many bytes at once", "[log]") {
  std::string text;
  for (int i = 0; i < 1000; ++i) {
    text += static_cast<char>('a' + i % 26);
  }
  for (const std::size_t asked : {std::size_t{1}, std::size_t{7}, std::size_t{100}, std::size_t{300}}) {
    CAPTURE(asked);
    std::size_t fewest = text.size();
    const ByteSource rest = [&fewest, source = bytes_of(text.substr(100))](std::span<char> into) {
      fewest = std::min(fewest, into.size());
      return source(into);
    };
    const ByteSource source = with_head(text.substr(0, 100), rest);
    std::string got;
    std::string piece(asked, '\0');
    while (const std::size_t count = source(piece)) {
      got += piece.substr(0, count);
    }
    CHECK(got == text);
    CHECK(fewest >= 100);
    CHECK(source(piece) == 0);
  }
}
