#include "bothways/log/bytes.hpp"

#include <zlib.h>

#include <cstdint>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t packed_block = std::size_t{64} * 1024;
// Logs shrink to a tenth or a fiftieth. What swells more than this, past the first 64 MiB, is no ride.
constexpr std::uint64_t free_bytes = std::uint64_t{64} << 20U;
constexpr std::uint64_t largest_ratio = 400;

class Inflater {
 public:
  explicit Inflater(ByteSource packed) : packed_(std::move(packed)), input_(packed_block) {
    ready_ = inflateInit2(&stream_, 15 + 16) == Z_OK;  // 15 + 16: gzip frame only
    *end_ = ready_ ? GzipEnd::whole : GzipEnd::damaged;
    stopped_ = !ready_;
  }
  ~Inflater() {
    if (ready_) {
      static_cast<void>(inflateEnd(&stream_));
    }
  }
  Inflater(const Inflater&) = delete;
  Inflater& operator=(const Inflater&) = delete;
  Inflater(Inflater&&) = delete;
  Inflater& operator=(Inflater&&) = delete;

  [[nodiscard]] std::shared_ptr<const GzipEnd> end() const { return end_; }

  std::size_t read(std::span<char> into) {
    stream_.next_out = reinterpret_cast<Bytef*>(into.data());
    stream_.avail_out = static_cast<uInt>(into.size());
    while (!stopped_ && stream_.avail_out == into.size()) {
      step();
    }
    const std::size_t got = into.size() - stream_.avail_out;
    given_ += got;
    if (given_ > free_bytes && given_ > taken_ * largest_ratio) {
      stop(GzipEnd::damaged);
      return 0;
    }
    return got;
  }

 private:
  void step() {
    if (stream_.avail_in == 0 && !refill()) {
      stop(between_members_ ? GzipEnd::whole : GzipEnd::cut_off);
      return;
    }
    if (between_members_ && *stream_.next_in != 0x1f) {  // padding or foreign bytes behind the last member
      stop(GzipEnd::whole);
      return;
    }
    between_members_ = false;
    const int result = inflate(&stream_, Z_NO_FLUSH);
    if (result == Z_STREAM_END) {
      between_members_ = true;
      static_cast<void>(inflateReset(&stream_));
    } else if (result != Z_OK && result != Z_BUF_ERROR) {
      stop(GzipEnd::damaged);
    }
  }

  bool refill() {
    const std::size_t got = packed_({input_.data(), input_.size()});
    taken_ += got;
    stream_.next_in = reinterpret_cast<Bytef*>(input_.data());
    stream_.avail_in = static_cast<uInt>(got);
    return got > 0;
  }

  void stop(GzipEnd end) {
    *end_ = end;
    stopped_ = true;
  }

  ByteSource packed_;
  std::vector<char> input_;
  z_stream stream_{};
  bool ready_ = false;
  bool stopped_ = false;
  bool between_members_ = false;
  std::uint64_t taken_ = 0;
  std::uint64_t given_ = 0;
  std::shared_ptr<GzipEnd> end_ = std::make_shared<GzipEnd>(GzipEnd::whole);
};

}  // namespace

Gunzip gunzip(ByteSource packed) {
  const auto inflater = std::make_shared<Inflater>(std::move(packed));
  return {[inflater](std::span<char> into) { return inflater->read(into); }, inflater->end()};
}

}  // namespace bothways
