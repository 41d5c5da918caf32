/// The log stage alone: reads each file and says what it found. read_only FILE...
#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"

#include <cstdio>

int main(int argc, char** argv) {
  for (int i = 1; i < argc; ++i) {
    try {
      const bothways::Log log = bothways::read_log(argv[i]);
      std::printf("%zu fixes, %zu notes\n", log.fixes.size(), log.notes.size());
    } catch (const bothways::LogError& error) {
      std::fprintf(stderr, "%s\n", error.what());
      return 1;
    }
  }
  return 0;
}
