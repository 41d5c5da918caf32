#pragma once

#include "bothways/report/page/page.hpp"

#include <iosfwd>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bothways {

/// Nothing is fetched and nothing sent; only the three parts that we wrote are run, whatever else is in a
/// page.
[[nodiscard]] std::string policy_of(const PageParts& parts);

/// The name of a gap in a document, and what goes in.
using Filling = std::pair<std::string_view, std::string>;

/// Writes a document with its gaps filled; what goes in is not looked into again.
/// @throws std::logic_error  if it has a gap that is not among them
void fill_document(std::ostream& out, std::string_view document, const std::vector<Filling>& fillings);

}  // namespace bothways
