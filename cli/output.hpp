#pragma once

#include "bothways/report/table.hpp"
#include "cli/app.hpp"
#include "cli/options.hpp"

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

/// @throws UsageError  if the output file is one of the inputs, by whatever name.
void refuse_to_overwrite(const OutputOptions& options, const std::vector<std::string>& inputs);

/// Calls `write` with the stream that the options ask for. A file is written under a temporary name beside
/// its place and renamed when complete; devices and pipes are written straight.
/// @throws OutputError  if it cannot be written; then the file is as it was before.
void write_output(const OutputOptions& options, const Streams& streams,
                  const std::function<void(std::ostream&)>& write);

/// Writes one long table in parts of the same columns, so that it is never whole in memory. In text each part
/// has its own headings.
class TableWriter {
 public:
  /// @param empty  the table without rows: name and columns
  TableWriter(std::ostream& out, Format format, Table empty);
  void add(const Table& part);
  /// Ends the table; nothing is added after it.
  void finish();

 private:
  std::ostream& out_;
  Format format_;
  Table empty_;
  bool first_ = true;
};

/// One table in the format asked for. @param clock  as write_json takes it
void write_table(std::ostream& out, const Table& table, Format format, std::string_view clock = "");

}  // namespace bothways::cli
