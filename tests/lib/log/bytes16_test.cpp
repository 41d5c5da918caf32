#include "bothways/log/bytes16.hpp"

#include <catch2/catch.hpp>

#include <random>
#include <string>
#include <vector>

using namespace bothways;

TEST_CASE("sixteen bytes at a time find and sum what one at a time does", "[log]") {
  std::mt19937_64 random(11);
  for (std::size_t size = 1; size < 70; ++size) {
    for (int round = 0; round < 50; ++round) {
      std::string text;
      std::vector<std::size_t> expected;
      unsigned sum = 0;
      for (std::size_t i = 0; i < size; ++i) {
        text += ",*ab\r$\xFF"[random() % 7];
        sum ^= static_cast<unsigned char>(text.back());
        if (text.back() == ',') {
          expected.push_back(i);
        }
      }
      // No byte outside may be read: a heap copy lets the sanitizer see it.
      const std::vector<char> exact(text.begin(), text.end());
      const std::string_view view(exact.data(), exact.size());
      std::vector<std::size_t> found;
      std::size_t first = size;
      Bytes16 total;
      for (std::size_t at = 0; at < size; at += Bytes16::size) {
        const Bytes16 block = Bytes16::load(view, at);
        for (Lanes commas = block.where(','); commas.any(); commas.drop_first()) {
          found.push_back(at + commas.first());
        }
        const std::size_t lane = block.where('*', '$', '\r').first();
        if (lane < Bytes16::size && first == size) {
          first = at + lane;
        }
        total.add(block);
      }
      CAPTURE(text);
      REQUIRE(found == expected);
      REQUIRE(first == std::min(text.find_first_of("*$\r"), size));
      REQUIRE(total.folded() == sum);
    }
  }
}
