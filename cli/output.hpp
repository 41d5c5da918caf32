#pragma once

#include "bothways/report/csv.hpp"
#include "bothways/report/long_text.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"
#include "cli/app.hpp"
#include "cli/options.hpp"

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace bothways::cli {

/// The output could not be written; what() is one sentence.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// How text for people is written: colour and width of the terminal, unless it goes into a file.
[[nodiscard]] SummaryOptions text_options(const OutputOptions& options, const Streams& streams);

/// @throws UsageError  if the output file is one of the inputs, by whatever name.
void refuse_to_overwrite(const OutputOptions& options, const std::vector<std::string>& inputs);

/// @param file  where the stream goes; empty: standard output
/// @throws OutputError  if the stream has failed.
void require_written(const std::ostream& out, const std::string& file = "");

/// Calls `write` with the stream that the options ask for. A file is written under a temporary name beside
/// its place and renamed when complete; devices and pipes are written straight.
/// @throws OutputError  if it cannot be written; then the file is as it was before.
void write_output(const OutputOptions& options, const Streams& streams,
                  const std::function<void(std::ostream&)>& write);

/// Rows of such a part: 2 MB of table at a time.
inline constexpr std::size_t part_rows = 4096;

/// Writes one long table in parts of the same columns, so that it is never whole in memory. In text each part
/// has its own headings, and log and day stand above.
class TableWriter {
 public:
  /// @param options  for the format, and the name of the file in errors
  /// @param empty    the table without rows: name and columns
  TableWriter(std::ostream& out, const OutputOptions& options, const Streams& streams, Table empty);
  /// @throws OutputError  if the stream has failed, so that nobody works for a reader that is gone.
  void add(const Table& part, const RowsHead& head);
  /// Ends the table; nothing is added after it.
  void finish();

 private:
  std::ostream& out_;
  Format format_;
  CsvDialect dialect_;
  std::string file_;
  Table empty_;
  LongText text_;
  bool first_ = true;
};

/// One table in the format asked for. @param clock  as write_json takes it
void write_table(std::ostream& out, const Table& table, Format format, std::string_view clock = "",
                 const CsvDialect& dialect = {});

}  // namespace bothways::cli
