#include "cli/page/page_parts.hpp"

#include "page_hashes.inc"

#include <stdexcept>

// The assembler takes each file as it is, between two names.
#define BOTHWAYS_EMBED(name, path)                                                                         \
  asm(".pushsection .rodata\n.global bothways_" #name "_begin\nbothways_" #name "_begin:\n.incbin \"" path \
      "\"\n.global bothways_" #name "_end\nbothways_" #name "_end:\n.byte 0\n.popsection\n");              \
  extern "C" const char bothways_##name##_begin[];                                                         \
  extern "C" const char bothways_##name##_end[]

BOTHWAYS_EMBED(document, BOTHWAYS_PAGE_SOURCE "/document.html");
BOTHWAYS_EMBED(logbook, BOTHWAYS_PAGE_SOURCE "/logbook.html");
BOTHWAYS_EMBED(style, BOTHWAYS_PAGE_SOURCE "/style.css");
BOTHWAYS_EMBED(script, BOTHWAYS_PAGE_SOURCE "/script.js");
#ifdef BOTHWAYS_PAGE_RUNTIME
BOTHWAYS_EMBED(runtime, BOTHWAYS_PAGE_RUNTIME);
#endif

namespace bothways::cli {

std::optional<PageParts> page_parts() {
#ifdef BOTHWAYS_PAGE_RUNTIME
  const auto between = [](const char* begin, const char* end) {
    return std::string_view(begin, static_cast<std::size_t>(end - begin));
  };
  return PageParts{.document = between(bothways_document_begin, bothways_document_end),
                   .logbook = between(bothways_logbook_begin, bothways_logbook_end),
                   .style = between(bothways_style_begin, bothways_style_end),
                   .script = between(bothways_script_begin, bothways_script_end),
                   .runtime = between(bothways_runtime_begin, bothways_runtime_end),
                   .style_hash = style_hash,
                   .script_hash = script_hash,
                   .runtime_hash = runtime_hash};
#else
  return std::nullopt;
#endif
}

PageParts require_page_parts() {
  if (const auto parts = page_parts()) {
    return *parts;
  }
  throw std::runtime_error(
      "this bothways was built without its page; install Debian's packages node-vega and esbuild, and build "
      "it "
      "again");
}

}  // namespace bothways::cli
