#include "bothways/speed/series.hpp"

namespace bothways {

const char* to_string(SpeedSource source) {
  return source == SpeedSource::reported ? "reported" : "positions";
}

}  // namespace bothways
