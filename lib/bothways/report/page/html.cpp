#include "bothways/report/page/html.hpp"

#include "bothways/report/escape.hpp"

namespace bothways {

std::string html_text(std::string_view text) {
  std::string out;
  for (const char c : escaped(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string html_text_lines(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    line = line.substr(0, line.find_last_not_of('\r') + 1);
    out += html_text(line) + "\n";
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return out;
}

std::string json_in_html(const std::string& json) {
  std::string out;
  out.reserve(json.size());
  for (const char c : json) {
    switch (c) {
      case '<':
        out += "\\u003c";
        break;
      case '>':
        out += "\\u003e";
        break;
      case '&':
        out += "\\u0026";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string html_paragraph(std::string_view text, std::string_view css_class) {
  const std::string attribute = css_class.empty() ? "" : " class=\"" + std::string(css_class) + "\"";
  return "<p" + attribute + ">" + html_text(text) + "</p>\n";
}

std::string html_list(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& text : texts) {
    out += "<li>" + html_text(text) + "</li>\n";
  }
  return out.empty() ? "" : "<ul>\n" + out + "</ul>\n";
}

std::string html_table(std::string_view caption, const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows, std::string_view css_class) {
  const std::string attribute = css_class.empty() ? "" : " class=\"" + std::string(css_class) + "\"";
  // A wide table scrolls by itself; the keyboard has to reach it for that.
  std::string out = R"(<div class="scroll" tabindex="0" role="region" aria-label=")" + html_text(caption) +
                    "\"><table" + attribute + ">\n<caption>" + html_text(caption) + "</caption>\n<thead><tr>";
  for (const std::string& head : heads) {
    out += "<th scope=\"col\">" + html_text(head) + "</th>";
  }
  out += "</tr></thead>\n<tbody>\n";
  for (const auto& row : rows) {
    out += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      const char* tag = i == 0 ? "th" : "td";
      out +=
          std::string("<") + tag + (i == 0 ? " scope=\"row\">" : ">") + html_text(row[i]) + "</" + tag + ">";
    }
    out += "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

}  // namespace bothways
