#include "bothways/log/read.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/bytes.hpp"
#include "bothways/log/readers.hpp"
#include "bothways/log/sniff.hpp"
#include "bothways/log/tidy.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <utility>

namespace bothways {

namespace {

const Reader& reader_of(const Sniffed& sniffed, const std::string& name) {
  const std::string remedy = "; give a " + format_names() + " file";
  switch (sniffed.content) {
    case Content::log:
      return *sniffed.reader;
    case Content::gzip:
      throw LogError(name, 0, "this is a gzip archive inside a gzip archive; unpack it once");
    case Content::foreign:
      throw LogError(name, 0,
                     "this is not a ride log: " + sniffed.what +
                         (sniffed.remedy.empty() ? remedy : "; " + sniffed.remedy));
    case Content::empty:
      break;
  }
  throw LogError(name, 0, "the file is empty" + remedy);
}

/// A byte order mark and blank lines before an XML declaration are not XML; they are passed over.
ByteSource without_blank_start(std::string head, ByteSource rest) {
  std::size_t skip = head.compare(0, utf8_bom.size(), utf8_bom) == 0 ? utf8_bom.size() : 0;
  skip = head.find_first_not_of(" \t\r\n", skip);
  head.erase(0, skip == std::string::npos ? 0 : skip);
  return with_head(std::move(head), std::move(rest));
}

Draft read_with(const Reader& reader, Wide wide, std::string head, ByteSource rest, ReaderInput input) {
  ByteSource text = reader.xml && wide == Wide::no ? without_blank_start(std::move(head), std::move(rest))
                                                   : with_head(std::move(head), std::move(rest));
  if (!reader.xml && wide != Wide::no) {
    text = utf16_to_utf8(std::move(text), wide == Wide::big_endian);
    input.bytes /= 2;
  }
  return reader.read({text, input.name, input.options, input.bytes});
}

void note_gzip_end(GzipEnd end, std::vector<Note>& notes) {
  if (end == GzipEnd::cut_off) {
    notes.push_back({"cut-off", "the gzip archive ends in the middle; what could be unpacked was used", 0});
  } else if (end == GzipEnd::damaged) {
    notes.push_back(
        {"broken-gzip", "the gzip archive is damaged; only what stands before the damage was used", 0});
  }
}

std::string why_nothing(const Draft& draft) {
  const auto is_no_fix = [](const Note& note) { return note.code == "no-fix"; };
  if (std::any_of(draft.notes.begin(), draft.notes.end(), is_no_fix)) {
    return "the receiver had no valid position at any time; give the log of a ride";
  }
  std::string why = "it holds no record with a time and a position or a speed";
  if (!draft.notes.empty()) {
    why += " (" + draft.notes.front().text + ")";
  }
  return why + "; give the log of a ride";
}

/// Readers name what they count, "row was left out": shown by itself a note is a sentence.
void make_sentences(std::vector<Note>& notes) {
  for (Note& note : notes) {
    std::string& text = note.text;
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
      text.front() = static_cast<char>(text.front() - 'a' + 'A');
    }
    if (!text.empty() && text.back() != '.') {
      text += '.';
    }
  }
}

/// Size of a plain file; 0 of anything else.
std::size_t bytes_of(const std::string& path) {
  struct stat status {};
  const bool plain = ::stat(path.c_str(), &status) == 0 && S_ISREG(status.st_mode);
  return plain ? static_cast<std::size_t>(status.st_size) : 0;
}

Log read_sized(const ByteSource& source, const std::string& name, const ReadOptions& options,
               std::size_t bytes) {
  ByteSource rest = source;
  std::string head = take_bytes(rest, head_bytes);
  Sniffed sniffed = sniff(head);
  std::shared_ptr<const GzipEnd> gzip_end;
  if (sniffed.content == Content::gzip) {
    const Gunzip unpacked = gunzip(with_head(std::move(head), std::move(rest)));
    gzip_end = unpacked.end;
    bytes = 0;
    rest = unpacked.source;
    head = take_bytes(rest, head_bytes);
    sniffed = sniff(head);
    if (head.empty() && *gzip_end != GzipEnd::whole) {
      throw LogError(name, 0, "the gzip archive is damaged from its start; copy the file again");
    }
  }
  Log log;
  log.path = name;
  const Reader& reader = reader_of(sniffed, name);
  log.format = reader.format;
  Draft draft =
      read_with(reader, sniffed.wide, std::move(head), std::move(rest), {source, name, options, bytes});
  if (gzip_end) {
    note_gzip_end(*gzip_end, draft.notes);
  }
  if (draft.full) {
    draft.notes.push_back({"too-many-fixes",
                           "the log is too long; what comes after the first " +
                               std::to_string(options.fixes) + " records was left out",
                           0});
  }
  tidy(draft);
  if (draft.fixes.empty()) {
    throw LogError(name, 0, why_nothing(draft));
  }
  log.dated = draft.dated;
  log.fixes = std::move(draft.fixes);
  log.channels = std::move(draft.channels);
  log.notes = std::move(draft.notes);
  log.whole_second_stamps = draft.whole_second_stamps;
  make_sentences(log.notes);
  return log;
}

}  // namespace

Log read_log(const std::string& path, const ReadOptions& options) {
  return read_sized(file_source(path), path, options, bytes_of(path));
}

Log read_log(const ByteSource& source, const std::string& name, const ReadOptions& options) {
  return read_sized(source, name, options, 0);
}

bool looks_like_log(const std::string& path) {
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0 || !S_ISREG(status.st_mode)) {
    return false;
  }
  try {
    const ByteSource file = file_source(path);
    std::string head = take_bytes(file, head_bytes);
    Sniffed sniffed = sniff(head);
    if (sniffed.content == Content::gzip) {
      const ByteSource none = [](std::span<char>) { return std::size_t{0}; };
      head = take_bytes(gunzip(with_head(std::move(head), none)).source, head_bytes);
      sniffed = sniff(head);
    }
    return sniffed.content == Content::log;
  } catch (const LogError&) {
    return false;
  }
}

}  // namespace bothways
