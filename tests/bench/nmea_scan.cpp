/// Floors of reading NMEA: every checksum verified, RMC and GGA decoded and paired by time, kept; or line
/// ends and checksums alone. nmea_scan FILE [bare]
///
/// It trusts what it does not need to check: one sentence a line, digits where digits belong. A reader that
/// mistrusts its log cannot be faster.
#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <string_view>
#include <vector>

namespace {

struct Kept {
  std::int64_t time_us = 0;
  double lat_deg = 0.0;
  double lon_deg = 0.0;
  double speed_kn = 0.0;
  double course_deg = 0.0;
  double ele_m = 0.0;
  double hdop = 0.0;
  int satellites = 0;
};

constexpr std::array<double, 10> tens = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};

using Block = unsigned char __attribute__((vector_size(16)));

unsigned hex(char c) {
  return static_cast<unsigned>(c <= '9' ? c - '0' : c - 'A' + 10);
}

bool is_right(std::string_view body, const char* digits) {
  Block sum{};
  const char* at = body.data();
  std::size_t left = body.size();
  for (; left >= sizeof sum; left -= sizeof sum, at += sizeof sum) {
    Block block;
    std::memcpy(&block, at, sizeof block);
    sum ^= block;
  }
  std::array<std::uint64_t, 2> half{};
  std::memcpy(half.data(), &sum, sizeof sum);
  std::uint64_t wide = half[0] ^ half[1];
  wide ^= wide >> 32U;
  wide ^= wide >> 16U;
  wide ^= wide >> 8U;
  auto total = static_cast<unsigned char>(wide);
  for (; left > 0; --left) {
    total = static_cast<unsigned char>(total ^ static_cast<unsigned char>(*at++));
  }
  return total == hex(digits[0]) * 16 + hex(digits[1]);
}

/// Reads a number and steps over the comma behind it.
double number(const char*& at) {
  const bool minus = *at == '-';
  at += minus ? 1 : 0;
  std::int64_t value = 0;
  std::size_t places = 0;
  bool point = false;
  for (;; ++at) {
    const auto digit = static_cast<unsigned>(*at - '0');
    if (digit < 10) {
      value = value * 10 + static_cast<int>(digit);
      places += point ? 1U : 0U;
    } else if (*at == '.') {
      point = true;
    } else {
      break;
    }
  }
  ++at;
  const double size = static_cast<double>(value) / tens[places];
  return minus ? -size : size;
}

int two(const char* at) {
  return (at[0] - '0') * 10 + (at[1] - '0');
}

std::int64_t clock_us(const char*& at) {
  const std::int64_t minutes = two(at) * 60 + two(at + 2);
  at += 4;
  return minutes * 60'000'000 + static_cast<std::int64_t>(number(at) * 1e6 + 0.5);
}

double degrees(const char*& at) {
  const double value = number(at);
  const int whole = static_cast<int>(value / 100.0);
  const double size = whole + (value - 100 * whole) / 60.0;
  const bool minus = *at == 'S' || *at == 'W';
  at += 2;
  return minus ? -size : size;
}

class Scan {
 public:
  explicit Scan(bool bare) : bare_(bare) {}

  void line(std::string_view text) {
    if (text.size() < 10 || text[0] != '$' || text[text.size() - 3] != '*' ||
        !is_right(text.substr(1, text.size() - 4), text.data() + text.size() - 2)) {
      ++bad;
      return;
    }
    if (bare_) {
      return;
    }
    const char* at = text.data() + 7;
    if (std::memcmp(text.data() + 3, "RMC,", 4) == 0) {
      rmc(at);
    } else if (std::memcmp(text.data() + 3, "GGA,", 4) == 0) {
      gga(at);
    }
  }

  std::vector<Kept> kept;
  std::size_t bad = 0;

 private:
  void rmc(const char* at) {
    Kept now;
    now.time_us = clock_us(at);
    at += 2;  // status
    now.lat_deg = degrees(at);
    now.lon_deg = degrees(at);
    now.speed_kn = number(at);
    now.course_deg = number(at);
    const int day = two(at);
    now.time_us += std::int64_t{day} * 86'400'000'000;
    kept.push_back(now);
    last_us_ = now.time_us % 86'400'000'000;
  }

  void gga(const char* at) {
    if (clock_us(at) != last_us_ || kept.empty()) {
      return;
    }
    static_cast<void>(degrees(at));
    static_cast<void>(degrees(at));
    at += 2;  // quality
    Kept& now = kept.back();
    now.satellites = static_cast<int>(number(at));
    now.hdop = number(at);
    now.ele_m = number(at);
  }

  bool bare_;
  std::int64_t last_us_ = -1;
};

}  // namespace

int main(int argc, char** argv) {
  const bool bare = argc == 3 && std::string_view(argv[2]) == "bare";
  const int file = argc == 2 || bare ? ::open(argv[1], O_RDONLY | O_CLOEXEC) : -1;
  if (file < 0) {
    std::fputs("nmea_scan FILE [bare]\n", stderr);
    return 2;
  }
  std::vector<char> buffer(std::size_t{256} * 1024);
  std::size_t have = 0;
  Scan scan(bare);
  for (;;) {
    const auto got = ::read(file, buffer.data() + have, buffer.size() - have);
    if (got <= 0) {
      break;
    }
    have += static_cast<std::size_t>(got);
    const char* at = buffer.data();
    const char* const end = at + have;
    while (const void* found = std::memchr(at, '\n', static_cast<std::size_t>(end - at))) {
      const char* stop = static_cast<const char*>(found);
      const bool cr = stop > at && stop[-1] == '\r';
      scan.line({at, static_cast<std::size_t>(stop - at - (cr ? 1 : 0))});
      at = stop + 1;
    }
    have = static_cast<std::size_t>(end - at);
    std::memmove(buffer.data(), at, have);
  }
  ::close(file);
  double sum = 0.0;
  for (const Kept& one : scan.kept) {
    sum += one.lat_deg + one.lon_deg + one.speed_kn + one.ele_m;
  }
  std::printf("%zu fixes, %zu bad, %.6f\n", scan.kept.size(), scan.bad, sum);
  return 0;
}
