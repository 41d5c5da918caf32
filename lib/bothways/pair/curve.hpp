#pragma once

#include "bothways/pair/monotone.hpp"
#include "bothways/run/run.hpp"

#include <array>
#include <optional>
#include <vector>

namespace bothways {

/// Time and travel against speed, from the first foot on.
struct Course {
  std::vector<double> v_mps;  ///< (n) rising
  std::vector<double> t_s;    ///< (n) rising
  std::vector<double> s_m;    ///< (n) travel from rest, rising
};

/// The edges of a run that rise in speed, time and travel; what does not is left out.
[[nodiscard]] Course course_of(const Run& run);

/// When a course has covered a distance, acceleration constant between its points; beyond the last point it
/// goes on with the last acceleration.
/// @param distance_m  > the course's first travel
[[nodiscard]] double time_at(const Course& course, double distance_m);

/// Two runs averaged at each speed: bands of speed, the harmonic mean of the two durations (and of the two
/// travels) in each.
struct MeanCourse {
  Course mean;                                ///< (n) point 0 is one foot of travel on the flat
  std::array<Course, 2> run;                  ///< (n) the two runs at the same speeds
  std::array<std::vector<double>, 2> weight;  ///< (n - 1) of each run: d(band's mean)/d(band's duration)
  std::array<std::vector<double>, 2> sd_s;    ///< (n) of each run: sd of its time at the speed
};

/// @param marks_mps  speeds that must be edges of bands
/// @return nothing where the two have no speeds in common
[[nodiscard]] std::optional<MeanCourse> mean_course(const Run& one, const Run& other,
                                                    std::vector<double> marks_mps);

/// The mean curve of two runs, the speeds of the splits that both have among its edges.
/// @return nothing where the two have no speeds in common
[[nodiscard]] std::optional<MeanCourse> mean_course_of(const Run& one, const Run& other);

}  // namespace bothways
