#pragma once

#include "bothways/report/table.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// Untrusted text for an element or a quoted attribute: escaped() first, so that no control character and no
/// mark that turns the writing direction is left, then & < > " ' as character references.
[[nodiscard]] std::string html_text(std::string_view text);

/// The same of each line, the line breaks kept.
[[nodiscard]] std::string html_text_lines(std::string_view text);

/// JSON that may stand inside a script element: no <, > or & is left in it, but as \u003c and so on.
/// @param json  ASCII
[[nodiscard]] std::string json_in_html(const std::string& json);

/// <p>...</p> of untrusted text.
[[nodiscard]] std::string html_paragraph(std::string_view text, std::string_view css_class = "");

/// <ul> of untrusted texts; empty for none.
[[nodiscard]] std::string html_list(const std::vector<std::string>& texts);

/// A table of untrusted texts. The first column heads the rows.
/// @param rows  each as long as `heads`
[[nodiscard]] std::string html_table(std::string_view caption, const std::vector<std::string>& heads,
                                     const std::vector<std::vector<std::string>>& rows,
                                     std::string_view css_class = "");

}  // namespace bothways
