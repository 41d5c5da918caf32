#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace bothways {

/// Reads the numbers of one CSV log: with a decimal point, or a decimal comma where no figure of the first
/// rows says that commas part the thousands.
class CsvNumbers {
 public:
  /// A cell of the rows that settle it.
  void learn(std::string_view cell);

  [[nodiscard]] std::optional<double> read(std::string_view cell) const;

 private:
  bool saw_point_ = false;
  bool saw_decimal_comma_ = false;  ///< what stands behind a comma cannot be thousands
};

}  // namespace bothways
