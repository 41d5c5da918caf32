#include "fuzz/hostile.hpp"

#include "fuzz/invariants.hpp"
#include "lib/report/sample.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <utility>

namespace bothways_fuzz {

using namespace bothways;

Texts::Texts(std::span<const std::uint8_t> bytes, std::string_view front) {
  constexpr std::size_t most_bytes = 1000;
  std::string_view rest(reinterpret_cast<const char*>(bytes.data()), std::min(bytes.size(), most_bytes));
  for (bool more = true; more;) {
    const std::size_t end = rest.find('\xFF');
    texts_.emplace_back(front).append(rest.substr(0, end));
    more = end != std::string_view::npos;
    rest.remove_prefix(more ? end + 1 : rest.size());
  }
}

namespace {

void fill(Ride& ride, Texts& texts) {
  ride.path = texts.next();
  Conditions conditions{
      .file = texts.next(), .setup = texts.next(), .vehicle = texts.next(), .note = texts.next()};
  conditions.total_mass_kg = 180.0;
  ride.conditions = std::move(conditions);
  ride.notes.push_back({"bad-conditions", texts.next(), 3});
  for (Run& run : ride.runs.accepted) {
    run.notes.push_back({"launch-unsure", texts.next(), 0});
  }
  for (Rejected& start : ride.runs.rejected) {
    start.text = texts.next();
  }
}

Difference difference_of(const SplitSpec& spec, Texts& texts) {
  Difference row{.spec = spec,
                 .before = normal_estimate(5.1, 0.05),
                 .after = normal_estimate(5.0, 0.05),
                 .difference = normal_estimate(-0.1, 0.07)};
  row.p_value = 0.15;
  row.pairs_before = 1;
  row.pairs_after = 1;
  row.main = true;
  row.text = texts.next();
  row.notes = {{"single-pair", texts.next(), 0}};
  return row;
}

Side side_of(const Result& result, std::string name) {
  return {.name = std::move(name), .rides = result.rides, .pairs = result.pairs};
}

Comparison comparison_of(const Side& before, const Side& after, const SplitSpec& spec, Texts& texts) {
  return {.before = before.name,
          .after = after.name,
          .differences = {difference_of(spec, texts)},
          .warnings = {{"other-days", texts.next(), 0}}};
}

}  // namespace

Result result_of(Texts& texts) {
  Result result = sample_result();
  for (Ride& ride : result.rides) {
    fill(ride, texts);
  }
  result.pairs.made.front().notes.front().text = texts.next();
  result.pairs.single.front().text = texts.next();
  return result;
}

Compared compared_of(Texts& texts) {
  Compared compared;
  for (int i = 0; i < 2; ++i) {
    Result result = result_of(texts);
    if (i == 0) {  // conditions of a side are told where its rides share them
      result.rides.back().conditions = result.rides.front().conditions;
    }
    compared.splits = result.splits;
    compared.sides.push_back(side_of(result, texts.next()));
    compared.overall.push_back(result.overall);
  }
  compared.comparisons = {
      comparison_of(compared.sides[0], compared.sides[1], compared.splits.front(), texts)};
  return compared;
}

Logbook logbook_of(Texts& texts) {
  const Compared compared = compared_of(texts);
  Logbook book{.splits = compared.splits};
  for (std::size_t i = 0; i < compared.sides.size(); ++i) {
    const Conditions& conditions = *compared.sides[i].rides.front().conditions;
    book.entries.push_back({.vehicle = conditions.vehicle,
                            .setup = conditions.setup,
                            .side = compared.sides[i],
                            .overall = compared.overall[i]});
  }
  book.entries.back().change = compared.comparisons.front();
  return book;
}

void demand_harmless(std::string_view text, std::string_view kept) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = [&](std::size_t k) {
      return static_cast<unsigned char>(i + k < text.size() ? text[i + k] : 0);
    };
    const unsigned first = byte(0);
    demand((first >= 0x20 && first != 0x7F) || kept.find(text[i]) != std::string_view::npos);
    const unsigned second = byte(1);
    const unsigned third = byte(2);
    demand(first != 0xC2 || second < 0x80 || second > 0x9F);                      // C1
    demand(first != 0xD8 || second != 0x9C);                                      // U+061C
    demand(first != 0xE2 || second != 0x80 || (third != 0x8E && third != 0x8F));  // U+200E, 200F
    demand(first != 0xE2 || second != 0x80 || third < 0xA8 || third > 0xAE);      // U+2028 to 202E
    demand(first != 0xE2 || second != 0x81 || third < 0xA6 || third > 0xA9);      // U+2066 to 2069
  }
  (void)nlohmann::json(text).dump();  // throws, which ends the program, where it is no UTF-8
}

}  // namespace bothways_fuzz
