#include "cli/output.hpp"

#include "bothways/report/csv.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/text.hpp"
#include "cli/command.hpp"
#include "cli/zone.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <utility>

namespace bothways::cli {

namespace fs = std::filesystem;

namespace {

/// A file that is gone at the end of its life unless it was kept.
class TemporaryFile {
 public:
  explicit TemporaryFile(const fs::path& target) : target_(target) {
    std::string name = (target.parent_path() / ("." + target.filename().string() + ".XXXXXX")).string();
    const int file = mkstemp(name.data());
    if (file < 0) {
      throw OutputError(target.string() + " could not be written: " + std::strerror(errno));
    }
    const mode_t mask = umask(0);  // mkstemp makes a private file; the result is to be an ordinary one
    umask(mask);
    const bool opened = fchmod(file, 0666U & ~mask) == 0;
    close(file);
    path_ = name;
    if (opened) {
      stream_.open(path_, std::ios::binary);
    }
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile(TemporaryFile&&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  TemporaryFile& operator=(TemporaryFile&&) = delete;
  ~TemporaryFile() {
    if (!kept_) {
      std::error_code ignored;
      fs::remove(path_, ignored);
    }
  }

  std::ostream& stream() { return stream_; }

  void keep() {
    stream_.close();
    std::error_code error;
    if (stream_) {
      fs::rename(path_, target_, error);
    }
    if (!stream_ || error) {
      throw OutputError(target_.string() + " could not be written" + (error ? ": " + error.message() : ""));
    }
    kept_ = true;
  }

 private:
  fs::path target_;
  fs::path path_;
  std::ofstream stream_;
  bool kept_ = false;
};

}  // namespace

SummaryOptions text_options(const OutputOptions& options, const Streams& streams) {
  const bool on_screen = options.file.empty();
  const Zone zone = zone_of(options.time_zone, streams);
  SummaryOptions summary{.explain = options.explain,
                         .quiet = options.quiet,
                         .colour = on_screen && streams.colour,
                         .width = on_screen ? streams.width : SummaryOptions{}.width};
  if (!zone.is_utc()) {
    summary.local = [zone](Instant utc) { return zone.local(utc); };
    summary.zone = zone.name();
  }
  return summary;
}

void refuse_to_overwrite(const OutputOptions& options, const std::vector<std::string>& inputs) {
  for (const std::string& input : inputs) {
    std::error_code error;  // a path that does not exist is equivalent to nothing
    if (!options.file.empty() && fs::equivalent(options.file, input, error) && !error) {
      throw UsageError("the output " + options.file + " is one of the inputs; choose another name");
    }
  }
}

void require_written(const std::ostream& out, const std::string& file) {
  if (!out) {
    throw OutputError((file.empty() ? "standard output" : file) + " could not be written");
  }
}

void write_output(const OutputOptions& options, const Streams& streams,
                  const std::function<void(std::ostream&)>& write) {
  if (options.file.empty()) {
    write(streams.out);
    require_written(streams.out);
    return;
  }
  std::error_code error;
  fs::path target = options.file;
  const fs::file_status status = fs::status(target, error);
  if (fs::is_directory(status)) {
    throw OutputError(options.file + " is a folder; name a file");
  }
  if (fs::exists(status) && !fs::is_regular_file(status)) {
    std::ofstream straight(target, std::ios::binary);
    write(straight);
    straight.close();
    require_written(straight, options.file);
    return;
  }
  if (fs::exists(status)) {
    target = fs::canonical(target);  // a link stays a link
  }
  TemporaryFile file(target);
  write(file.stream());
  file.keep();
}

TableWriter::TableWriter(std::ostream& out, const OutputOptions& options, const Streams& streams, Table empty)
    : out_(out),
      format_(options.format),
      dialect_(options.dialect),
      file_(options.file),
      empty_(std::move(empty)),
      text_(out, text_options(options, streams).width) {
  if (format_ == Format::json) {
    write_json_head(out_, empty_.name);
  }
}

void TableWriter::add(const Table& part, const RowsHead& head) {
  if (part.rows.empty()) {
    return;
  }
  require_written(out_, file_);
  switch (format_) {
    case Format::text:
      text_.add(part, head);
      break;
    case Format::csv:
      write_csv(out_, part, first_, dialect_);
      break;
    case Format::json:
      write_json_rows(out_, part, first_);
      break;
    case Format::jsonl:
      write_jsonl(out_, part);
      break;
  }
  first_ = false;
}

void TableWriter::finish() {
  if (format_ == Format::json) {
    write_json_foot(out_);
  } else if (first_) {
    write_table(out_, empty_, format_, "", dialect_);
  }
}

void write_table(std::ostream& out, const Table& table, Format format, std::string_view clock,
                 const CsvDialect& dialect) {
  switch (format) {
    case Format::text:
      write_text(out, table);
      break;
    case Format::csv:
      write_csv(out, table, true, dialect);
      break;
    case Format::json:
      write_json(out, table, clock);
      break;
    case Format::jsonl:
      write_jsonl(out, table);
      break;
  }
}

}  // namespace bothways::cli
