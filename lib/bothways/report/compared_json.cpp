#include "bothways/report/compared.hpp"
#include "bothways/report/compared_conditions.hpp"
#include "bothways/report/contract_parts.hpp"
#include "bothways/report/escape.hpp"

#include <ostream>
#include <string>

namespace bothways {

namespace {

Json difference_json(const Comparison& comparison, const Difference& row) {
  Json object = to_json(difference_record(comparison, row));
  if (!row.notes.empty()) {
    object["notes"] = notes_json(row.notes);
  }
  return object;
}

Json side_json(const Compared& compared, std::size_t index) {
  const Result result = side_result(compared, index);
  Json logs = Json::array();
  for (std::size_t i = 0; i < result.rides.size(); ++i) {
    logs.push_back(log_json(result, i));
  }
  return {{"name", valid_utf8(compared.sides[index].name)},
          {"runs", count_runs(result.rides)},
          {"pairs", result.pairs.made.size()},
          {"overall", overall_json(result)},
          {"logs", std::move(logs)}};
}

/// What differing conditions may explain, an object per thing and side.
Json expected_json(const Compared& compared) {
  Json array = Json::array();
  for (const ExpectedOf& expected : expected_of(compared)) {
    for (const ExpectedPart& part : expected.parts) {
      array.push_back(to_json({{"after", expected.after},
                               {"name", expected.split},
                               {"code", part.code},
                               {"lo_s", Number{part.time_s.lo, machine_decimals}},
                               {"hi_s", Number{part.time_s.hi, machine_decimals}},
                               {"text", part.text}}));
    }
  }
  return array;
}

}  // namespace

void write_compared_json(std::ostream& out, const Compared& compared) {
  Json object = head_json(compared.clock, compared.marks_chosen);
  object["differences"] = Json::array();
  for (const Comparison& comparison : compared.comparisons) {
    for (const Difference& row : comparison.differences) {
      object["differences"].push_back(difference_json(comparison, row));
    }
  }
  object["warnings"] = notes_json(warnings_of(compared));
  object["expected"] = expected_json(compared);
  object["sides"] = Json::array();
  for (std::size_t i = 0; i < compared.sides.size(); ++i) {
    object["sides"].push_back(side_json(compared, i));
  }
  out << object.dump(1) << '\n';
}

void write_compared_jsonl(std::ostream& out, const Compared& compared) {
  for (const Comparison& comparison : compared.comparisons) {
    for (const Difference& row : comparison.differences) {
      Json object = head_json(compared.clock, compared.marks_chosen);
      object.update(difference_json(comparison, row));
      out << object.dump() << '\n';
    }
  }
  Json object = head_json(compared.clock, compared.marks_chosen);
  object["warnings"] = notes_json(warnings_of(compared));
  object["expected"] = expected_json(compared);
  out << object.dump() << '\n';
}

}  // namespace bothways
