#include "bothways/report/page/document.hpp"

#include <algorithm>
#include <ostream>
#include <stdexcept>

namespace bothways {

std::string policy_of(const PageParts& parts) {
  const auto hash = [](std::string_view of) { return " 'sha256-" + std::string(of) + "'"; };
  return "default-src 'none'; script-src" + hash(parts.runtime_hash) + hash(parts.script_hash) +
         "; style-src" + hash(parts.style_hash) +
         "; img-src data: blob:; base-uri 'none'; form-action 'none'";
}

void fill_document(std::ostream& out, std::string_view document, const std::vector<Filling>& fillings) {
  std::string_view rest = document;
  while (!rest.empty()) {
    const std::size_t open = rest.find("{{");
    out << rest.substr(0, open);
    if (open == std::string_view::npos) {
      return;
    }
    const std::size_t close = rest.find("}}", open);
    const std::string_view name =
        close == std::string_view::npos ? "" : rest.substr(open + 2, close - open - 2);
    const auto found =
        std::find_if(fillings.begin(), fillings.end(), [&](const Filling& f) { return f.first == name; });
    if (found == fillings.end()) {
      throw std::logic_error("the page's document asks for '" + std::string(name) + "', which there is not");
    }
    out << found->second;
    rest.remove_prefix(close + 2);
  }
}

}  // namespace bothways
