#include "bothways/report/page/document.hpp"
#include "bothways/report/page/html.hpp"
#include "bothways/report/page/parts.hpp"

#include <ostream>
#include <stdexcept>
#include <utility>

namespace bothways {

namespace {

std::string title_of(const PageWork& work) {
  const Compared& compared = work.page.compared;
  if (compared.comparisons.empty()) {
    const std::string days = days_words(compared.sides.front().rides);
    return "Ride sheet" + (days.empty() ? "" : ", " + days);
  }
  std::string names;
  for (const Side& side : compared.sides) {
    names += (names.empty() ? "" : ", ") + side.name;
  }
  return "Comparison sheet: " + names;
}

std::string figures_with(const PageWork& work, std::string_view prefix) {
  std::string out;
  for (const Chart& chart : work.charts) {
    if (chart.id.starts_with(prefix)) {
      out += figure_part(chart);
    }
  }
  return out;
}

std::vector<Filling> fillings(const PageWork& work, const PageParts& parts) {
  return {{"policy", policy_of(parts)},
          {"title", html_text(title_of(work))},
          {"style", std::string(parts.style)},
          {"head", head_part(work)},
          {"result", result_part(work)},
          {"splits", splits_part(work)},
          {"speed", figures_with(work, "speed")},
          {"acceleration",
           figures_with(work, "acceleration") + figures_with(work, "pull") + figures_with(work, "power")},
          {"difference", figures_with(work, "difference")},
          {"ride", figures_with(work, "ride")},
          {"left_out", left_out_part(work)},
          {"map", figures_with(work, "map")},
          {"pairs", figures_with(work, "pairs")},
          {"runs", runs_part(work)},
          {"notes", notes_part(work)},
          {"method", method_part(work)},
          {"csv", html_text_lines(page_csv(work))},
          {"data", json_in_html(page_data(work))},
          {"runtime", std::string(parts.runtime)},
          {"script", std::string(parts.script)}};
}

}  // namespace

void write_page(std::ostream& out, const Page& page, const PageParts& parts) {
  if (page.compared.sides.empty()) {
    throw std::invalid_argument("a page needs a side");
  }
  const PageWork work = work_of(page);
  fill_document(out, parts.document, fillings(work, parts));
}

}  // namespace bothways
