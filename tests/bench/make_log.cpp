/// Writes a long invented ride to standard output: make_log gpx|nmea megabytes [lap-seconds [day]]
///
/// 10 Hz, a standing start every lap (300 s, a rider's habit; 162 is dense), there and back along a
/// straight line in the empty South Pacific. Noise comes from a fixed generator, so the same bytes come out
/// each time.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <iterator>
#include <string>
#include <string_view>

namespace {

constexpr double step_s = 0.1;

struct Moment {
  std::int64_t tenths = 0;  ///< since the start of the log
  double lat_deg = 0.0;
  double lon_deg = 0.0;
  double ele_m = 0.0;
  double v_mps = 0.0;
  double course_deg = 0.0;
};

/// 15 s of standing, pulling away, riding, 10 s of braking.
double speed_at(double second, double lap_s) {
  const double pulled_mps = 17.0 * (1.0 - std::exp(-(second - 15.0) / 7.0));
  return second < 15.0 ? 0.0 : pulled_mps * std::min(1.0, (lap_s - second) / 10.0);
}

class Ride {
 public:
  /// @param day  from 1: other days have other noise
  Ride(int lap_s, int day) : lap_tenths_(lap_s * 10), state_(20260503U + static_cast<std::uint64_t>(day)) {}

  Moment next() {
    const double second = static_cast<double>(tenths_ % lap_tenths_) * step_s;
    const bool back = tenths_ / lap_tenths_ % 2 == 1;
    const double true_mps = speed_at(second, static_cast<double>(lap_tenths_) * step_s);
    s_m_ += (back ? -true_mps : true_mps) * step_s;
    Moment now;
    now.tenths = tenths_++;
    now.lat_deg = -47.5 + noise(2e-6);
    now.lon_deg = -125.25 + s_m_ / 75'000.0 + noise(3e-6);
    now.ele_m = 12.0 + noise(1.5);
    now.v_mps = std::max(0.0, true_mps + noise(0.05));
    now.course_deg = (back ? 270.0 : 90.0) + noise(1.0);
    return now;
  }

 private:
  /// Even within +- size.
  double noise(double size) {
    state_ = state_ * 6364136223846793005U + 1442695040888963407U;
    return size * (static_cast<double>(state_ >> 33U) / 1073741824.0 - 1.0);
  }

  std::int64_t tenths_ = 0;
  double s_m_ = 0.0;
  std::int64_t lap_tenths_;
  std::uint64_t state_;
};

struct ClockTime {
  std::chrono::year_month_day day;
  int hour;
  int minute;
  int second;
  int tenth;
};

ClockTime clock_of(std::chrono::sys_days first, std::int64_t tenths) {
  const std::int64_t s = tenths / 10;
  return {first + std::chrono::days(s / 86'400), static_cast<int>(s / 3600 % 24),
          static_cast<int>(s / 60 % 60), static_cast<int>(s % 60), static_cast<int>(tenths % 10)};
}

/// yyyy-mm-dd
std::string iso(const std::chrono::year_month_day& day) {
  return fmt::format("{}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()));
}

/// ddmmyy
std::string nmea_date(const std::chrono::year_month_day& day) {
  return fmt::format("{:02}{:02}{:02}", static_cast<unsigned>(day.day()), static_cast<unsigned>(day.month()),
                     static_cast<int>(day.year()) % 100);
}

void add_gpx(std::string& out, const Moment& now, const ClockTime& at) {
  fmt::format_to(std::back_inserter(out),
                 "      <trkpt lat=\"{:.7f}\" lon=\"{:.7f}\">\n        <ele>{:.1f}</ele>\n"
                 "        <time>{}T{:02}:{:02}:{:02}.{}00Z</time>\n        <hdop>0.8</hdop>\n"
                 "        <extensions>\n          <speed>{:.2f}</speed>\n          <course>{:.1f}</course>\n"
                 "        </extensions>\n      </trkpt>\n",
                 now.lat_deg, now.lon_deg, now.ele_m, iso(at.day), at.hour, at.minute, at.second, at.tenth,
                 now.v_mps, now.course_deg);
}

void add_sentence(std::string& out, std::string_view body) {
  unsigned sum = 0;
  for (const char c : body) {
    sum ^= static_cast<unsigned char>(c);
  }
  fmt::format_to(std::back_inserter(out), "${}*{:02X}\r\n", body, sum);
}

/// `ddmm.mmmmm,N`
std::string angle(double deg, int width, char plus, char minus) {
  const double size = std::abs(deg);
  const int whole = static_cast<int>(size);
  return fmt::format("{:0{}}{:08.5f},{}", whole, width, std::min((size - whole) * 60.0, 59.99999),
                     deg < 0 ? minus : plus);
}

void add_nmea(std::string& out, const Moment& now, const ClockTime& at) {
  const std::string clock = fmt::format("{:02}{:02}{:02}.{}0", at.hour, at.minute, at.second, at.tenth);
  const std::string place = angle(now.lat_deg, 2, 'N', 'S') + "," + angle(now.lon_deg, 3, 'E', 'W');
  const double v_kn = now.v_mps * 3600.0 / 1852.0;
  add_sentence(out, fmt::format("GNRMC,{},A,{},{:.3f},{:.2f},{},,,A", clock, place, v_kn, now.course_deg,
                                nmea_date(at.day)));
  add_sentence(out,
               fmt::format("GNVTG,{:.2f},T,,M,{:.3f},N,{:.3f},K,A", now.course_deg, v_kn, now.v_mps * 3.6));
  add_sentence(out, fmt::format("GNGGA,{},{},1,12,0.80,{:.1f},M,-8.2,M,,", clock, place, now.ele_m));
  add_sentence(out, "GNGSA,A,3,02,05,07,09,13,15,20,27,30,,,,1.40,0.80,1.15");
}

}  // namespace

int main(int argc, char** argv) {
  const std::string_view format = argc >= 3 ? argv[1] : "";
  const double bytes = argc >= 3 ? std::atof(argv[2]) * 1e6 : 0.0;
  const int lap_s = argc >= 4 ? std::atoi(argv[3]) : 300;
  const int day = argc >= 5 ? std::atoi(argv[4]) : 1;
  if ((format != "gpx" && format != "nmea") || !(bytes > 0.0) || lap_s < 40 || day < 1) {
    std::fputs("make_log gpx|nmea megabytes [lap-seconds [day]]\n", stderr);
    return 2;
  }
  const bool gpx = format == "gpx";
  std::string out;
  if (gpx) {
    out =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"make_log\" "
        "xmlns=\"http://www.topografix.com/GPX/1/1\">\n  <trk>\n    <name>invented</name>\n    <trkseg>\n";
  }
  const std::chrono::sys_days first = std::chrono::year{2025} / 5 / 1;
  Ride ride(lap_s, day);
  for (double written = 0.0; written < bytes;) {
    const Moment now = ride.next();
    const ClockTime at = clock_of(first + std::chrono::days(day - 1), now.tenths);
    if (gpx) {
      add_gpx(out, now, at);
    } else {
      add_nmea(out, now, at);
    }
    written += static_cast<double>(out.size());
    if (std::fwrite(out.data(), 1, out.size(), stdout) != out.size()) {
      return 1;
    }
    out.clear();
  }
  if (gpx) {
    std::fputs("    </trkseg>\n  </trk>\n</gpx>\n", stdout);
  }
  return std::fflush(stdout) == 0 ? 0 : 1;
}
