#pragma once

#include "bothways/report/page/page.hpp"

#include <optional>

namespace bothways::cli {

/// The parts of a page that came with the program; nothing if it was built without the charting runtime.
[[nodiscard]] std::optional<PageParts> page_parts();

/// The same. @throws std::runtime_error  with a sentence where there are none.
[[nodiscard]] PageParts require_page_parts();

}  // namespace bothways::cli
