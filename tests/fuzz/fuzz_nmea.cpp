#include "fuzz/invariants.hpp"

/// Any bytes, and the same behind a sound sentence.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  bothways_fuzz::check_reading("", {data, size});
  bothways_fuzz::check_reading("$GPRMC,081836,A,3751.65,S,14507.36,E,000.0,360.0,130998,011.3,E*62\n",
                               {data, size});
  return 0;
}
