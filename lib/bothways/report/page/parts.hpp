#pragma once

#include "bothways/report/page/charts.hpp"
#include "bothways/report/page/splits.hpp"

#include <string>
#include <vector>

namespace bothways {

/// What every part of a page is written from, worked out once.
struct PageWork {
  const Page& page;
  std::vector<Result> results;                ///< (sides)
  std::vector<PageSplit> splits;              ///< page_splits()
  std::vector<std::vector<Without>> without;  ///< (sides)
  ChartPlan plan;
  std::vector<Chart> charts;
};

[[nodiscard]] PageWork work_of(const Page& page);

/// page_data() of what has been worked out.
[[nodiscard]] std::string page_data(const PageWork& work);

/// The end of a path: who sends the page does not send the names of his folders.
[[nodiscard]] std::string file_name_of(const std::string& path);

/// "2026-05-04", "2026-05-04 to 2026-06-01"; empty where no day is known.
[[nodiscard]] std::string days_words(const std::vector<Ride>& rides);

/// What the page says first, a sentence a split.
[[nodiscard]] std::vector<std::string> result_sentences(const PageWork& work);

// The parts of the document, in its order, as HTML.
[[nodiscard]] std::string head_part(const PageWork& work);
[[nodiscard]] std::string result_part(const PageWork& work);
[[nodiscard]] std::string splits_part(const PageWork& work);
[[nodiscard]] std::string runs_part(const PageWork& work);
[[nodiscard]] std::string figure_part(const Chart& chart);
[[nodiscard]] std::string left_out_part(const PageWork& work);
[[nodiscard]] std::string notes_part(const PageWork& work);
[[nodiscard]] std::string method_part(const PageWork& work);

/// Every time of the page as CSV, a row a split of a run, a pair, all pairs, or a difference. No times of
/// day, no places.
[[nodiscard]] std::string page_csv(const PageWork& work);

}  // namespace bothways
