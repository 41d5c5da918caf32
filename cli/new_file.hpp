#pragma once

#include <string>

namespace bothways::cli {

/// A file of a name that no other has, made empty at once, so that nobody else takes it; it goes away with
/// this where it is still empty.
class NewFile {
 public:
  /// ride.html beside ride.gpx or ride.nmea.gz; ride-2.html, ... where there is one already.
  /// @throws OutputError  if none can be made there
  NewFile(const std::string& beside, const std::string& extension);
  NewFile(const NewFile&) = delete;
  NewFile(NewFile&&) = delete;
  NewFile& operator=(const NewFile&) = delete;
  NewFile& operator=(NewFile&&) = delete;
  ~NewFile();

  [[nodiscard]] const std::string& path() const { return path_; }  ///< absolute

 private:
  std::string path_;
};

}  // namespace bothways::cli
