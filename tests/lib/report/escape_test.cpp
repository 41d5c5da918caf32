#include "bothways/report/escape.hpp"

#include <catch2/catch.hpp>

using namespace bothways;

TEST_CASE("control characters and bytes that are no UTF-8 are shown, the rest is kept", "[report]") {
  CHECK(escaped("a\x1b[31mb\r\n\t\x7f") == "a\\x1b[31mb\\x0d\\x0a\\x09\\x7f");
  CHECK(escaped("Straße – 道 🛵") == "Straße – 道 🛵");
  CHECK(escaped("\xc2\x9b"
                "31m") == "\\x9b31m");  // C1 control sequence introducer
  CHECK(escaped("x\xe2\x80\xaey") == "x\\u202ey");
  CHECK(escaped(std::string("a\0b", 3)) == "a\\x00b");
}

TEST_CASE("malformed sequences of the Unicode standard are escaped byte by byte", "[report]") {
  // Unicode standard, table 3-7 (well-formed UTF-8): overlong, surrogate, above U+10FFFF, cut off.
  CHECK(valid_utf8("\xc0\xaf") == "\\xc0\\xaf");
  CHECK(valid_utf8("\xe0\x80\x80") == "\\xe0\\x80\\x80");
  CHECK(valid_utf8("\xed\xa0\x80") == "\\xed\\xa0\\x80");
  CHECK(valid_utf8("\xf4\x90\x80\x80") == "\\xf4\\x90\\x80\\x80");
  CHECK(valid_utf8("\xe2\x82") == "\\xe2\\x82");
  CHECK(valid_utf8("\xff"
                   "a\n") ==
        "\\xff"
        "a\n");
}

TEST_CASE("the width of a text is counted in columns", "[report]") {
  CHECK(display_width("5.12 ± 0.03") == 11);
  CHECK(display_width("道") == 2);
  CHECK(display_width("e\xcc\x81") == 1);
}
