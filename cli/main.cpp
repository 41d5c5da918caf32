#include "cli/app.hpp"

#include <unistd.h>

#include <iostream>

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  const bothways::cli::Streams streams{std::cin, std::cout, std::cerr, isatty(STDOUT_FILENO) == 1,
                                       isatty(STDERR_FILENO) == 1};
  return static_cast<int>(bothways::cli::run({argv + 1, argv + argc}, streams));
}
