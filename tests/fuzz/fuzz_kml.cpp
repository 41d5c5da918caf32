#include "fuzz/invariants.hpp"

/// Any bytes, and the same behind the start of a KML file.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  bothways_fuzz::check_reading("", {data, size});
  bothways_fuzz::check_reading("<kml><Placemark><Track>", {data, size});
  return 0;
}
