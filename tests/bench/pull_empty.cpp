/// Floor of reading GPX: the XML library's pull parser with callbacks that do nothing. pull_empty FILE
#include <fcntl.h>
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <unistd.h>

#include <cstdio>

namespace {

int read_bytes(void* user, char* into, int size) {
  return static_cast<int>(::read(*static_cast<int*>(user), into, static_cast<std::size_t>(size)));
}

void on_start(void* /*user*/, const xmlChar* /*name*/, const xmlChar* /*prefix*/, const xmlChar* /*uri*/,
              int /*namespaces*/, const xmlChar** /*namespace_list*/, int /*attributes*/, int /*defaulted*/,
              const xmlChar** /*attribute*/) {}
void on_end(void* /*user*/, const xmlChar* /*name*/, const xmlChar* /*prefix*/, const xmlChar* /*uri*/) {}
void on_text(void* /*user*/, const xmlChar* /*text*/, int /*size*/) {}

}  // namespace

int main(int argc, char** argv) {
  int file = argc == 2 ? ::open(argv[1], O_RDONLY | O_CLOEXEC) : -1;
  if (file < 0) {
    std::fputs("pull_empty FILE\n", stderr);
    return 2;
  }
  xmlSAXHandler handler{};
  handler.initialized = XML_SAX2_MAGIC;
  handler.startElementNs = on_start;
  handler.endElementNs = on_end;
  handler.characters = on_text;
  handler.ignorableWhitespace = on_text;
  handler.cdataBlock = on_text;
  xmlParserCtxtPtr context =
      xmlCreateIOParserCtxt(&handler, nullptr, read_bytes, nullptr, &file, XML_CHAR_ENCODING_NONE);
  if (context == nullptr) {
    return 1;
  }
  xmlCtxtUseOptions(context, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
  const int result = xmlParseDocument(context);
  std::printf("%s\n", context->wellFormed != 0 ? "well formed" : "broken");
  xmlFreeParserCtxt(context);
  return result == 0 ? 0 : 1;
}
