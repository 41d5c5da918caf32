/// What two quick ways of the readers save: 16 bytes of a sentence at a time (log/bytes16.hpp) and short
/// decimal numbers by one division (log/number.cpp), each beside the plain way. All rows read the sentences
/// of one fixture, and `s_a_sentence` compares them with `s_a_line` of `reading/nmea_10hz`.
#include "bothways/log/nmea_sentence.hpp"
#include "bothways/log/number.hpp"

#include <benchmark/benchmark.h>

#include <array>
#include <charconv>
#include <cstdlib>
#include <fstream>
#include <string>
#include <system_error>
#include <vector>

namespace {

using bothways::Sentence;

const std::vector<std::string>& sentences() {
  static const std::vector<std::string> lines = [] {
    std::ifstream file(BOTHWAYS_SOURCE_DIR "/fixtures/town-scooter/ride.nmea", std::ios::binary);
    std::vector<std::string> all;
    for (std::string line; std::getline(file, line);) {
      if (!line.empty() && line.front() == '$') {
        all.push_back(line);
      }
    }
    if (all.empty()) {
      std::abort();
    }
    return all;
  }();
  return lines;
}

struct Split {
  unsigned sum = 0;
  std::size_t commas = 0;
  std::array<std::uint32_t, 40> comma{};
};

/// Sum and commas of a sentence, a byte at a time.
Split split_plainly(std::string_view line) {
  Split split;
  for (std::size_t i = 1; i < line.size() && line[i] != '*' && line[i] != '\r'; ++i) {
    split.sum ^= static_cast<unsigned char>(line[i]);
    if (line[i] == ',' && split.commas < split.comma.size()) {
      split.comma[split.commas++] = static_cast<std::uint32_t>(i);
    }
  }
  return split;
}

/// The same, 16 bytes at a time.
Split split_by_sixteen(std::string_view line) {
  Split split;
  for (std::size_t at = 1; at < line.size(); at += bothways::Bytes16::size) {
    const bothways::Bytes16 block = bothways::Bytes16::load(line, at);
    const bothways::Lanes ends = block.where('*', '$', '\r');
    bothways::Lanes commas = ends.any() ? block.where(',').before(ends.first()) : block.where(',');
    for (; commas.any() && split.commas < split.comma.size(); commas.drop_first()) {
      split.comma[split.commas++] = static_cast<std::uint32_t>(at + commas.first());
    }
    split.sum ^= ends.any() ? block.first(ends.first()).folded() : block.folded();
    if (ends.any()) {
      break;
    }
  }
  return split;
}

double nearest_by_library(std::string_view text) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size() ? value : 0.0;
}

double nearest_by_division(std::string_view text) {
  return bothways::parse_decimal(text).value_or(0.0);
}

void count_sentences(benchmark::State& state) {
  const auto all = static_cast<double>(state.iterations()) * static_cast<double>(sentences().size());
  state.counters["s_a_sentence"] =
      benchmark::Counter(all, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

template <Split (*split)(std::string_view)>
void splitting(benchmark::State& state) {
  for ([[maybe_unused]] auto round : state) {
    for (const std::string& line : sentences()) {
      const Split done = split(line);
      benchmark::DoNotOptimize(done);
    }
  }
  count_sentences(state);
}

/// The figures of all sentences, as the reader takes them: minutes of a position, speed, course, height.
std::vector<std::string> figures() {
  std::vector<std::string> all;
  for (const std::string& line : sentences()) {
    std::string_view rest = line;
    Sentence sentence;
    if (!bothways::take_sentence(rest, sentence)) {
      continue;
    }
    for (const std::size_t field : {2U, 3U, 4U, 5U, 7U, 8U, 9U}) {
      const std::string_view text = sentence.fields[field];
      if (text.find('.') != std::string_view::npos) {
        all.emplace_back(text);
      }
    }
  }
  return all;
}

template <double (*nearest)(std::string_view)>
void numbers(benchmark::State& state) {
  const std::vector<std::string> all = figures();
  for (const std::string& text : all) {
    if (nearest(text) != nearest_by_library(text)) {
      state.SkipWithError("the two ways differ");
    }
  }
  for ([[maybe_unused]] auto round : state) {
    for (const std::string& text : all) {
      benchmark::DoNotOptimize(nearest(text));
    }
  }
  count_sentences(state);
}

BENCHMARK_TEMPLATE(splitting, split_by_sixteen);
BENCHMARK_TEMPLATE(splitting, split_plainly);
BENCHMARK_TEMPLATE(numbers, nearest_by_division);
BENCHMARK_TEMPLATE(numbers, nearest_by_library);

}  // namespace
