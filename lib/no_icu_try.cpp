// Shows, when the build is configured, that the static XML library links with no_icu.cpp.
#include <libxml/parser.h>

int main() {
  return xmlReadFile("", nullptr, 0) == nullptr ? 0 : 1;
}
