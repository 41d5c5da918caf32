/// Runs a fuzz target once over every file below the given folders, and over each file with its end or its
/// middle missing, so that the targets work in every build. Usage: replay FOLDER...
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

void run(const std::string& bytes) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

std::string content(const std::filesystem::path& path) {
  const std::ifstream file(path, std::ios::binary);
  std::ostringstream all;
  all << file.rdbuf();
  return all.str();
}

}  // namespace

int main(int argc, char** argv) {
  std::size_t files = 0;
  for (int i = 1; i < argc; ++i) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(argv[i])) {
      if (entry.is_regular_file()) {
        const std::string bytes = content(entry.path());
        run(bytes);
        run(bytes.substr(0, bytes.size() / 2));
        run(bytes.substr(0, bytes.size() / 3) + bytes.substr(bytes.size() / 2));
        ++files;
      }
    }
  }
  std::printf("%zu files replayed\n", files);
  return files > 0 ? 0 : 1;
}
