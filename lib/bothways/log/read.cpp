#include "bothways/log/read.hpp"

#include "bothways/core/error.hpp"

namespace bothways {

Log read_log(const std::string& path, const ReadLimits& /*limits*/) {
  throw LogError(path, 0, "no reader is built yet");
}

Log read_log(const ByteSource& /*source*/, const std::string& name, const ReadLimits& /*limits*/) {
  throw LogError(name, 0, "no reader is built yet");
}

bool looks_like_log(const std::string& /*path*/) {
  return false;
}

}  // namespace bothways
