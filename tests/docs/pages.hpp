#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace docs {

/// Root of the source tree.
[[nodiscard]] std::filesystem::path root();

/// The lines of a text file, without their ends.  Throws if it cannot be read.
[[nodiscard]] std::vector<std::string> lines_of(const std::filesystem::path& file);

/// Every file under root()/folder that ends in one of `endings`, sorted; empty if the folder is not there.
[[nodiscard]] std::vector<std::filesystem::path> files_in(std::string_view folder,
                                                          const std::vector<std::string>& endings);

/// All Markdown pages: those at the root and in docs/.
[[nodiscard]] std::vector<std::filesystem::path> pages();

/// The prose of a Markdown page line by line: code spans and fenced blocks blanked, so that rows still count.
[[nodiscard]] std::vector<std::string> prose_of(const std::filesystem::path& page);

/// The lines inside fenced blocks of a page.
[[nodiscard]] std::vector<std::string> fenced_in(const std::filesystem::path& page);

}  // namespace docs
