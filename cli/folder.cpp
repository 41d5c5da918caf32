#include "cli/folder.hpp"

#include "bothways/core/error.hpp"
#include "bothways/core/text.hpp"
#include "bothways/log/folder.hpp"
#include "bothways/log/log.hpp"
#include "bothways/log/read.hpp"
#include "cli/digest.hpp"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <utility>

namespace bothways::cli {

namespace fs = std::filesystem;

namespace {

/// One name per file, whatever links and dots lead to it.
std::string identity(const std::string& path) {
  std::error_code error;
  const fs::path canonical = fs::canonical(path, error);
  return error ? path : canonical.string();
}

/// ".jpg"; empty where the name has no ending.
std::string ending_of(const std::string& path) {
  return lowered(fs::path(path).extension().string());
}

/// Files that belong beside logs.
bool is_beside(const std::string& path) {
  const std::string name = fs::path(path).filename().string();
  return name == "conditions.ini" || name == "Conditions.ini" || name == "CONDITIONS.INI";
}

/// Named like a log: who gives the folder expects it to be read.
bool is_named_like_log(const std::string& path) {
  const std::string ending = ending_of(path);
  return ending == ".gpx" || ending == ".nmea" || ending == ".csv" || ending == ".gz";
}

/// Why a file is no log; empty if it is one after all.
std::string why_no_log(const std::string& path) {
  try {
    (void)read_log(path);
  } catch (const LogError& error) {
    return error.what();
  }
  return "";
}

/// "6 other files in rides are not ride logs: 4 .jpg, 1 .txt, 1 without an ending"
std::string others_words(const std::string& folder, const std::vector<std::string>& others) {
  std::map<std::string, std::size_t> kinds;
  for (const std::string& path : others) {
    ++kinds[ending_of(path)];
  }
  std::string text = others.size() == 1 ? "1 other file in " + folder + " is not a ride log: "
                                        : std::to_string(others.size()) + " other files in " + folder +
                                              " are not ride logs: ";
  const char* before = "";
  for (const auto& [ending, count] : kinds) {
    text += std::exchange(before, ", ") + std::to_string(count) + " " +
            (ending.empty() ? "without an ending" : ending);
  }
  return text;
}

void tell_others(const std::string& folder, std::vector<std::string> others, bool names, Inputs& inputs) {
  constexpr std::size_t most_named = 20;
  others.erase(std::remove_if(others.begin(), others.end(), is_beside), others.end());
  if (others.empty()) {
    return;
  }
  inputs.troubles.push_back(others_words(folder, others) + (names                ? ""
                                                            : others.size() == 1 ? "; --explain names it"
                                                                                 : "; --explain names them"));
  std::size_t named = 0;
  for (const std::string& path : others) {
    if ((names || is_named_like_log(path)) && named < most_named) {
      ++named;
      inputs.troubles.push_back(why_no_log(path));
    }
  }
}

std::vector<std::string> search(const std::string& folder, bool names, Inputs& inputs) {
  FoundLogs found;
  try {
    found = find_logs(folder);
  } catch (const LogError& error) {
    inputs.unreadable.emplace_back(error.what());
    return {};
  }
  for (const Note& note : found.notes) {
    inputs.troubles.push_back(note.text);
  }
  for (const std::string& path : found.unreadable) {
    inputs.unreadable.push_back(path +
                                ": this could not be opened; check its permissions, or where the link leads");
  }
  tell_others(folder, std::move(found.others), names, inputs);
  if (found.paths.empty()) {
    inputs.troubles.push_back("no log found in the folder " + folder + " (looked for " + format_names() +
                              " by content)");
  }
  return found.paths;
}

/// True if both are files of the same bytes; of the same size already.
bool same_bytes(const std::string& a, const std::string& b) {
  constexpr std::streamsize block = 1 << 16;
  std::ifstream one(a, std::ios::binary);
  std::ifstream other(b, std::ios::binary);
  std::string left(block, '\0');
  std::string right(block, '\0');
  while (one && other) {
    one.read(left.data(), block);
    other.read(right.data(), block);
    if (one.gcount() != other.gcount() || left.compare(0, std::string::npos, right) != 0) {
      return false;
    }
  }
  return one.eof() && other.eof();
}

/// Files met so far, and those that would count twice: met by another path, or copies.
class DistinctFiles {
 public:
  bool is_new(const std::string& file) {
    const std::string one_name = file == "-" ? file : identity(file);
    if (!met_.insert(one_name).second) {
      if (again_.insert(one_name).second && first_again_.empty()) {
        first_again_ = file == "-" ? "standard input" : file;
      }
      return false;
    }
    const std::string original = original_of(file);
    if (!original.empty()) {
      ++copies_;
      first_copy_ = first_copy_.empty() ? file + " is a copy of " + original : first_copy_;
    }
    return original.empty();
  }

  /// A sentence for each way in which files would have counted twice.
  [[nodiscard]] std::vector<std::string> sentences() const {
    std::vector<std::string> all;
    if (again_.size() == 1) {
      all.push_back(first_again_ + " was given more than once; it is read once");
    } else if (!again_.empty()) {
      all.push_back(std::to_string(again_.size()) + " files were given more than once, the first " +
                    first_again_ + "; each is read once");
    }
    if (copies_ == 1) {
      all.push_back(first_copy_ + "; its runs count once");
    } else if (copies_ > 1) {
      all.push_back(std::to_string(copies_) + " files are copies of others: " + first_copy_ +
                    ", for example; their runs count once");
    }
    return all;
  }

 private:
  /// The file met before that has the same bytes; empty if none. Devices and pipes are not looked into.
  std::string original_of(const std::string& file) {
    std::error_code error;
    if (file == "-" || !fs::is_regular_file(file, error)) {
      return "";
    }
    const auto size = fs::file_size(file, error);
    if (error || size == 0) {
      return "";
    }
    const auto [first, alone] = first_of_size_.try_emplace(size, file);
    if (alone) {
      return "";
    }
    if (const std::string earlier = std::exchange(first->second, ""); !earlier.empty()) {
      static_cast<void>(first_of_content(earlier));  // not read before another had its size
    }
    const std::string other = first_of_content(file);
    return other.empty() || !same_bytes(file, other) ? "" : other;
  }

  /// The first file with the digest of this one, as far as files were asked for; empty if it is this one. So
  /// a folder of files of one size is read once, not once for each two.
  std::string first_of_content(const std::string& file) {
    const auto content = digest_of_file(file);
    if (!content) {
      return "";
    }
    const auto [found, is_first] = by_content_.try_emplace(*content, file);
    return is_first ? "" : found->second;
  }

  std::set<std::string> met_;
  std::set<std::string> again_;
  std::map<std::uintmax_t, std::string> first_of_size_;  ///< empty: its digest is known
  std::map<std::string, std::string> by_content_;
  std::string first_again_;
  std::string first_copy_;
  std::size_t copies_ = 0;
};

}  // namespace

Inputs find_inputs(const std::vector<std::string>& paths, bool names) {
  Inputs inputs;
  DistinctFiles distinct;
  for (const std::string& path : paths) {
    std::error_code error;
    std::vector<std::string> files{path};
    if (path != "-" && fs::is_directory(path, error)) {
      files = search(path, names, inputs);
    }
    std::copy_if(files.begin(), files.end(), std::back_inserter(inputs.files),
                 [&](const std::string& file) { return distinct.is_new(file); });
  }
  for (const std::string& sentence : distinct.sentences()) {
    inputs.troubles.push_back(sentence);
  }
  return inputs;
}

}  // namespace bothways::cli
