// The population: are times, intervals and words right for receivers, riders and roads that we did not invent
// one by one?
//
//     bothways_population                          300 rides and 120 couples, seed 1 (tuning)
//     bothways_population --seed 1000              a seed for judging
//     bothways_population --kind phone --rides 60  one kind of log (part of its name)
//     bothways_population --curves all             coverage and width against every trait of a ride
//     bothways_population --figures                every figure with the traits of its ride, as CSV
//     bothways_population --habits                 one habit of receivers at a time, on one that has none
//     bothways_population --log 12                 that ride's log as CSV; its starts on the error stream
//     bothways_population --check                  exit code 1 outside of loose bounds
//
// Each ride draws receiver, vehicle, rider, road and weather at random from the ranges of ranges.hpp, which
// are wider than we think likely. Receivers here share no code with those of the cells (bothways_truth),
// which stay as a regression. Runs are held against their own times; pairs, results, sides and differences
// against the level road in still air.

#include "support/simulate/write.hpp"
#include "truth/population/habits.hpp"
#include "truth/population/judge.hpp"
#include "truth/population/print.hpp"

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace {

using namespace bothways::population;

struct Arguments {
  std::uint64_t seed = 1;
  std::size_t rides = 300;
  std::size_t couples = 120;
  std::optional<std::size_t> log;
  unsigned threads = 2;
  std::string kind;
  Format format = Format::text;
  bool all_curves = false;
  bool habits = false;
  bool check = false;
  Said said;
  bool wrong = false;
  bool help = false;
};

bool take_value(Arguments& a, const std::string& option, const char* value) {
  const auto number = [&] { return std::strtoull(value, nullptr, 10); };
  if (option == "--seed") {
    a.seed = number();
  } else if (option == "--rides") {
    a.rides = number();
  } else if (option == "--couples") {
    a.couples = number();
  } else if (option == "--log") {
    a.log = number();
  } else if (option == "--threads") {
    a.threads = static_cast<unsigned>(std::max(1ULL, std::min(64ULL, number())));
  } else if (option == "--kind") {
    a.kind = value;
  } else if (option == "--curves") {
    a.all_curves = std::strcmp(value, "all") == 0;
  } else if (option == "--format") {
    const std::string word = value;
    a.format = word == "csv" ? Format::csv : word == "markdown" ? Format::markdown : Format::text;
    a.wrong = a.format == Format::text && word != "text";
  } else {
    return false;
  }
  return true;
}

Arguments parse(int argc, char** argv) {
  Arguments a;
  for (int i = 1; i < argc && !a.wrong; ++i) {
    const std::string option = argv[i];
    if (option == "--check") {
      a.check = true;
    } else if (option == "--mass") {
      a.said.mass = true;
    } else if (option == "--kind-said") {
      a.said.kind = true;
    } else if (option == "--habits") {
      a.habits = true;
    } else if (option == "--help") {
      a.help = true;
    } else if (option == "--figures") {
      a.format = Format::figures;
    } else {
      a.wrong = i + 1 >= argc || !take_value(a, option, argv[i + 1]) || a.wrong;
      ++i;
    }
  }
  return a;
}

void print_help() {
  std::puts(
      "bothways_population [--seed N] [--rides N] [--couples N] [--kind TEXT] [--curves all] [--threads N]\n"
      "                    [--format text|csv|markdown] [--figures] [--habits] [--log N] [--check]\n"
      "Times rides drawn at random and scores times, 95 % intervals and words. Seeds below 1000 are for "
      "tuning,\n"
      "others for judging.\n"
      "  --kind TEXT    only kinds of log whose name contains TEXT\n"
      "  --figures      one line of CSV a figure, with the traits of its ride\n"
      "  --habits       --rides drives with a plain receiver of each kind, and with one habit after the "
      "other put on\n"
      "  --mass         conditions give the mass of vehicle and rider; rides only\n"
      "  --kind-said    conditions say that it is a scooter, a kart ...; rides only\n"
      "  --log N        the log of ride N as CSV, and its starts on the error stream: time of movement and "
      "of "
      "the first\n"
      "                 foot in seconds from the first fix on, and the highest speed in m/s\n"
      "  --check        exit code 1 outside of loose bounds, to be tightened as the library gets better\n"
      "Columns: n figures of so many rides; held: intervals that hold the truth, with a 99 % interval that "
      "knows\n"
      "that the figures of a ride go together; bias, median size and rms of the error; e2/sd2: mean square "
      "of\n"
      "error over stated sd; +-: mean half of the interval; score: mean of width plus 40 times what the "
      "truth lies\n"
      "outside; PIT: how many truths lie in each tenth of the stated law. LOW, HIGH: the 99 % interval of "
      "the\n"
      "coverage lies outside 93..97 %. Seconds. Mopeds are timed to 20 and 25 mph in place of 30 and 50.");
}

/// Calls work(0) ... work(count - 1) from some threads; the first trouble comes out here.
void in_parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next{0};
  std::exception_ptr trouble;
  std::mutex guard;
  const auto loop = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock(guard);
        trouble = trouble ? trouble : std::current_exception();
      }
    }
  };
  std::vector<std::thread> others;
  for (unsigned i = 1; i < threads; ++i) {
    others.emplace_back(loop);
  }
  loop();
  for (std::thread& other : others) {
    other.join();
  }
  if (trouble) {
    std::rethrow_exception(trouble);
  }
}

std::vector<Kind> wanted_kinds(const std::string& text) {
  std::vector<Kind> wanted;
  for (int kind = 0; kind < kinds; ++kind) {
    if (std::string(to_string(static_cast<Kind>(kind))).find(text) != std::string::npos) {
      wanted.push_back(static_cast<Kind>(kind));
    }
  }
  return wanted;
}

/// Kinds take turns, so that each has as many rides.
Population drawn(const Arguments& a, const std::vector<Kind>& wanted) {
  Population population{
      .seed = a.seed, .rides = std::vector<Judged>(a.rides), .couples = std::vector<Judged>(a.couples)};
  in_parallel(a.rides + a.couples, a.threads, [&](std::size_t i) {
    if (i < a.rides) {
      population.rides[i] = judge(ride_and_record(wanted[i % wanted.size()], a.seed, i), a.said);
    } else {
      const std::size_t k = i - a.rides;
      population.couples[k] = judge_couple(wanted[k / 12 % wanted.size()], a.seed, k);
    }
  });
  return population;
}

/// The same rides through a plain receiver, and through the same with one habit.
std::vector<std::vector<Judged>> judged_habits(const Arguments& a, Kind kind) {
  std::vector<std::vector<Judged>> judged(habits().size());
  for (std::size_t h = 0; h < habits().size(); ++h) {
    Device device = plain_device(kind);
    if (habits()[h].speed_only && !device.with_speed()) {
      continue;
    }
    habits()[h].put_on(device);
    judged[h].resize(a.rides);
    in_parallel(a.rides, a.threads,
                [&](std::size_t i) { judged[h][i] = judge(ride_and_record(device, a.seed, i)); });
  }
  return judged;
}

/// What `--log` asks for.
void print_log(const RiddenLog& ridden) {
  std::fputs(bothways::sim::to_csv(ridden.log).c_str(), stdout);
  std::fprintf(stderr, "%s, %s\n", ridden.machine.name.c_str(), ridden.machine.launch.c_str());
  for (const bothways::sim::TrueStart& start : ridden.truth.starts) {
    std::fprintf(stderr, "%-8s movement %8.2f foot %8.2f lift %8.2f s top %5.1f m/s",
                 bothways::sim::to_string(start.kind), start.movement_s, start.foot_s, start.lift_s,
                 start.top_mps);
    for (const bothways::SplitSpec& spec : ridden.machine.splits) {
      if (const auto split_s =
              bothways::sim::true_split_s(ridden.truth, start, spec, bothways::Clock::rollout)) {
        std::fprintf(stderr, "  %s %.2f", spec.name.c_str(), *split_s);
      }
    }
    std::fputs("\n", stderr);
  }
}

}  // namespace

int main(int argc, char** argv) {
  const Arguments arguments = parse(argc, argv);
  const std::vector<Kind> wanted = wanted_kinds(arguments.kind);
  if (arguments.wrong || arguments.help || wanted.empty()) {
    print_help();
    return arguments.help ? 0 : 2;
  }
  try {
    if (arguments.log) {
      print_log(ride_and_record(wanted[*arguments.log % wanted.size()], arguments.seed, *arguments.log));
      return 0;
    }
    if (arguments.habits) {
      for (const Kind kind : wanted) {
        print(habits_table(kind, judged_habits(arguments, kind)), arguments.format);
      }
      return 0;
    }
    const Population population = drawn(arguments, wanted);
    print(population, arguments.format, arguments.all_curves);
    return arguments.check && !is_within_loose_bounds(population) ? 1 : 0;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "bothways_population: %s\n", error.what());
    return 1;
  }
}
