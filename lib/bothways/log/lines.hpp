#pragma once

#include "bothways/log/draft.hpp"
#include "bothways/log/read.hpp"

#include <cstddef>
#include <string_view>
#include <vector>

namespace bothways {

/// Cuts a byte stream into lines at LF, CR LF, or CR where the file has no LF. Memory: one fixed buffer.
class LineReader {
 public:
  /// @param longest  a longer line is skipped and counted in too_long()
  LineReader(const ByteSource& source, std::size_t longest);

  /// Moves to the next line. False at the end.
  [[nodiscard]] bool next();

  [[nodiscard]] std::string_view line() const { return line_; }  ///< without its end; valid until next()
  [[nodiscard]] std::size_t number() const { return number_; }   ///< 1-based
  [[nodiscard]] bool terminated() const { return terminated_; }  ///< false: the file ends in this line
  /// What is read ahead: at the start the first bytes of the file.
  [[nodiscard]] std::string_view buffered() const { return {buffer_.data() + begin_, end_ - begin_}; }
  /// Bytes handed out so far, this line among them.
  [[nodiscard]] std::size_t used() const { return read_ - (end_ - begin_); }
  [[nodiscard]] const Tally& too_long() const { return too_long_; }

 private:
  void fill();
  [[nodiscard]] const char* find_end() const;
  [[nodiscard]] const char* read_to_end(bool& dropped);

  const ByteSource& source_;
  std::size_t longest_;
  std::vector<char> buffer_;
  std::size_t begin_ = 0;  ///< of what is not handed out yet
  std::size_t end_ = 0;    ///< of what is filled
  std::size_t read_ = 0;   ///< from the source
  bool ended_ = false;
  char separator_ = '\n';
  std::string_view line_;
  std::size_t number_ = 0;
  bool terminated_ = true;
  Tally too_long_;
};

}  // namespace bothways
