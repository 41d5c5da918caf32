#include "bothways/report/page/words.hpp"

#include <array>

namespace bothways {

namespace {

constexpr std::array<std::string_view, 5> caution_texts{
    "Ride tests on a closed or private road. The law, the rules of the place and other people come first; no "
    "figure is worth a fine or a fall.",
    "Wear the whole of your protective gear, also for \"only one more start\".",
    "Start the log before you ride and stop it afterwards. Nobody handles a phone while riding.",
    "A change that makes a vehicle quicker may need a type approval, other tyres or other brakes. Work on "
    "brakes "
    "and on fuel belongs to people licensed for it.",
    "A quicker time says nothing about whether the vehicle is still safe, legal or sound."};

constexpr std::array<std::string_view, 3> method_texts{
    "From the readings of the log and what is known of its receiver, the motion of each standing start is "
    "estimated with its uncertainty, first movement included, and the times between marks with it.",
    "Runs out and back over the same road are paired, and the two accelerations averaged at each speed, so "
    "that "
    "slope and most of the wind drop out.",
    "The interval of a result holds the measurement, and how much the pairs, and the days, differ among "
    "themselves."};

}  // namespace

std::span<const std::string_view> cautions() {
  return caution_texts;
}

std::span<const std::string_view> method_in_short() {
  return method_texts;
}

}  // namespace bothways
