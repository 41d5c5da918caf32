#include "fuzz/invariants.hpp"

/// Any bytes, and the same behind a header.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  bothways_fuzz::check_reading("", {data, size});
  bothways_fuzz::check_reading("time,lat,lon,speed_kmh,rpm\n", {data, size});
  return 0;
}
