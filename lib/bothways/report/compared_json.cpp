#include "bothways/report/compared.hpp"
#include "bothways/report/compared_conditions.hpp"
#include "bothways/report/contract_parts.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"

#include <ostream>
#include <string>

namespace bothways {

namespace {

/// before_s, before_sd_s, before_lo95_s, before_hi95_s
void put_figure(Json& object, const std::string& name, const Estimate& estimate) {
  if (is_printable(estimate)) {
    const Estimate e = rounded(estimate);
    object[name + "_s"] = e.value;
    object[name + "_sd_s"] = e.sd;
    object[name + "_lo95_s"] = e.lo95;
    object[name + "_hi95_s"] = e.hi95;
  }
}

Json difference_json(const Comparison& comparison, const Difference& row) {
  Json object{{"name", row.name},
              {"before", valid_utf8(comparison.before)},
              {"after", valid_utf8(comparison.after)},
              {"main", row.main}};
  put_figure(object, "before", row.before);
  put_figure(object, "after", row.after);
  if (is_printable(row.difference)) {
    const Estimate e = rounded(row.difference);
    object["difference_s"] = e.value;
    object["sd_s"] = e.sd;
    object["lo95_s"] = e.lo95;
    object["hi95_s"] = e.hi95;
  }
  put_number(object, "p_value", row.p_value, p_decimals(row.p_value));
  put_number(object, "degrees_of_freedom", row.degrees_of_freedom, 1);
  object["pairs_before"] = row.pairs_before;
  object["pairs_after"] = row.pairs_after;
  object["days_before"] = row.days_before;
  object["days_after"] = row.days_after;
  put_number(object, "scatter_s", row.scatter_s, machine_decimals);
  if (row.allowance_s > 0.0) {
    put_number(object, "allowance_s", row.allowance_s, machine_decimals);
  }
  object["verdict"] = to_string(row.verdict);
  if (row.more_pairs > 0) {
    object["more_pairs"] = row.more_pairs;
    put_number(object, "more_pairs_show_s", row.more.difference_s, machine_decimals);
  }
  object["text"] = valid_utf8(row.text);
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
      Json object{{"after", valid_utf8(expected.after)}, {"name", expected.split}, {"code", part.code}};
      put_number(object, "lo_s", part.time_s.lo, machine_decimals);
      put_number(object, "hi_s", part.time_s.hi, machine_decimals);
      object["text"] = valid_utf8(part.text);
      array.push_back(std::move(object));
    }
  }
  return array;
}

Json head_json(const Compared& compared) {
  return {{"schema", json_schema},
          {"clock", to_string(compared.clock)},
          {"clock_text", describe(compared.clock)}};
}

}  // namespace

void write_compared_json(std::ostream& out, const Compared& compared) {
  Json object = head_json(compared);
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
      Json object = head_json(compared);
      object.update(difference_json(comparison, row));
      out << object.dump() << '\n';
    }
  }
  Json object = head_json(compared);
  object["warnings"] = notes_json(warnings_of(compared));
  object["expected"] = expected_json(compared);
  out << object.dump() << '\n';
}

}  // namespace bothways
