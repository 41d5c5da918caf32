#pragma once

#include "bothways/pair/logbook.hpp"
#include "bothways/report/compared.hpp"
#include "bothways/report/power.hpp"

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// All that a page tells: one ride or folder, or set-ups side by side.
struct Page {
  Compared compared;               ///< one side without a name for a ride; rides with Run::more_splits
  std::vector<PowerResult> power;  ///< (sides) or empty; a side without a mass has only accelerations
  bool with_map = false;           ///< places and times of day too; else days only, and no coordinates
  std::string version;             ///< of the program
};

/// The parts of a page that are not written by the library: files of the program, some made at build time.
struct PageParts {
  std::string_view document;    ///< HTML with {{name}} where something goes in
  std::string_view logbook;     ///< the same for a logbook
  std::string_view style;       ///< CSS
  std::string_view script;      ///< our own JavaScript
  std::string_view runtime;     ///< the charting runtime, JavaScript
  std::string_view style_hash;  ///< SHA-256 of each in base64, for the Content-Security-Policy
  std::string_view script_hash;
  std::string_view runtime_hash;
};

/// The splits that the page offers besides those asked: between round speeds, and some distances from rest.
/// For RunOptions::more_splits.
[[nodiscard]] std::vector<SplitSpec> splits_to_offer(const std::vector<SplitSpec>& asked, bool metric);

/// What the page's charts and tables are drawn from, as one JSON text (docs/formats.md, "The page").
[[nodiscard]] std::string page_data(const Page& page);

/// One self-contained HTML document that needs no network: every figure in it is one of the library's, and
/// the script chooses among them. Names and notes from logs stay text whatever is in them.
void write_page(std::ostream& out, const Page& page, const PageParts& parts);

/// A logbook as such a document: the last change in a sentence, a row per set-up and day, a chart of each
/// split over time, what each change did, and all figures as CSV.
void write_logbook_page(std::ostream& out, const Logbook& book, const PageParts& parts,
                        const std::string& version);

/// The page's first chart by itself: speed against time of every run with its band, as SVG.
void write_figure(std::ostream& out, const Page& page);

}  // namespace bothways
