// bothways_make_completions FOLDER writes there what bash, zsh and fish complete.
#include "cli/completions.hpp"

#include <cstdio>
#include <filesystem>
#include <fstream>

int main(int argc, char** argv) {
  using namespace bothways::cli;
  if (argc != 2) {
    std::fputs("bothways_make_completions FOLDER\n", stderr);
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::ofstream bash(folder / "bothways.bash");
  std::ofstream zsh(folder / "_bothways");
  std::ofstream fish(folder / "bothways.fish");
  write_bash_completion(bash);
  write_zsh_completion(zsh);
  write_fish_completion(fish);
  return bash.flush() && zsh.flush() && fish.flush() ? 0 : 1;
}
