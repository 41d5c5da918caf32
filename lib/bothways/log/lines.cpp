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
    ended_ = got == 0;
  }
}

const char* LineReader::find_end() const {
  return static_cast<const char*>(std::memchr(buffer_.data() + begin_, separator_, end_ - begin_));
}

bool LineReader::next() {
  bool skipping = false;
  for (;;) {
    const char* found = find_end();
    if (found == nullptr && !ended_) {
      if (end_ - begin_ > longest_) {  // hopeless: drop what is here, keep reading up to its end
        skipping = true;
        begin_ = end_;
      }
      fill();
      found = find_end();
      if (found == nullptr && !ended_) {
        continue;
      }
    }
    if (found == nullptr && begin_ == end_ && !skipping) {
      return false;
    }
    ++number_;
    terminated_ = found != nullptr;
    const char* first = buffer_.data() + begin_;
    const char* last = terminated_ ? found : buffer_.data() + end_;
    begin_ = static_cast<std::size_t>(last - buffer_.data()) + (terminated_ ? 1U : 0U);
    line_ = {first, static_cast<std::size_t>(last - first)};
    if (!skipping && line_.size() <= longest_) {
      if (!line_.empty() && line_.back() == '\r') {
        line_.remove_suffix(1);
      }
      return true;
    }
    too_long_.add(number_);
    skipping = false;
  }
}

}  // namespace bothways
