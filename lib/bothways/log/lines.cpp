#include "bothways/log/lines.hpp"

#include <algorithm>
#include <cstring>

namespace bothways {

namespace {

constexpr std::size_t block_bytes = std::size_t{256} * 1024;

}  // namespace

LineReader::LineReader(const ByteSource& source, std::size_t longest)
    : source_(source), longest_(longest), buffer_(std::max(block_bytes, 2 * longest + 2)) {
  fill();
  const char* first = buffer_.data();
  if (std::memchr(first, '\n', end_) == nullptr && std::memchr(first, '\r', end_) != nullptr) {
    separator_ = '\r';
  }
}

/// Moves what is left to the front and reads until the buffer is full or the source ends.
void LineReader::fill() {
  std::memmove(buffer_.data(), buffer_.data() + begin_, end_ - begin_);
  end_ -= begin_;
  begin_ = 0;
  while (!ended_ && end_ < buffer_.size()) {
    const std::size_t got = source_({buffer_.data() + end_, buffer_.size() - end_});
    end_ += got;
    read_ += got;
    ended_ = got == 0;
  }
}

const char* LineReader::find_end() const {
  return static_cast<const char*>(std::memchr(buffer_.data() + begin_, separator_, end_ - begin_));
}

/// Reads on until the end of the line is in the buffer, or the file ends. A line that is already too long is
/// dropped on the way.
const char* LineReader::read_to_end(bool& dropped) {
  const char* found = find_end();
  while (found == nullptr && !ended_) {
    if (end_ - begin_ > longest_) {
      dropped = true;
      begin_ = end_;
    }
    fill();
    found = find_end();
  }
  return found;
}

bool LineReader::next() {
  for (;;) {
    bool dropped = false;
    const char* found = read_to_end(dropped);
    if (found == nullptr && begin_ == end_ && !dropped) {
      return false;
    }
    ++number_;
    terminated_ = found != nullptr;
    const char* first = buffer_.data() + begin_;
    const char* last = terminated_ ? found : buffer_.data() + end_;
    begin_ = static_cast<std::size_t>(last - buffer_.data()) + (terminated_ ? 1U : 0U);
    line_ = {first, static_cast<std::size_t>(last - first)};
    if (!dropped && line_.size() <= longest_) {
      break;
    }
    too_long_.add(number_);
  }
  if (!line_.empty() && line_.back() == '\r') {
    line_.remove_suffix(1);
  }
  return true;
}

}  // namespace bothways
