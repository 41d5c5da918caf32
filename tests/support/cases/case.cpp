#include "support/cases/case.hpp"

#include <algorithm>
#include <charconv>
#include <cstddef>
#include <fstream>
#include <stdexcept>
#include <string_view>

namespace bothways::sim {

namespace {

/// Fields of a line: parted by two blanks or more.
std::vector<std::string> fields_of(const std::string& line) {
  std::vector<std::string> fields;
  std::size_t begin = 0;
  while (begin < line.size()) {
    const std::size_t end = std::min(line.find("  ", begin), line.size());
    fields.push_back(line.substr(begin, end - begin));
    begin = line.find_first_not_of(' ', end);
    begin = std::min(begin, line.size());
  }
  return fields;
}

std::vector<std::string> parted(const std::string& text, char by) {
  std::vector<std::string> parts;
  std::size_t begin = 0;
  while (begin <= text.size()) {
    const std::size_t end = std::min(text.find(by, begin), text.size());
    parts.push_back(text.substr(begin, end - begin));
    begin = end + 1;
  }
  return parts;
}

template <class Number>
Number number_of(std::string_view text) {
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) {
    throw std::runtime_error("'" + std::string(text) + "' is no number");
  }
  return value;
}

/// "4.127 s"
double seconds_of(const std::string& text) {
  const auto words = parted(text, ' ');
  if (words.size() != 2 || words[1] != "s") {
    throw std::runtime_error("'" + text + "' is no time in s");
  }
  return number_of<double>(words[0]);
}

/// "within 0.03 s" or "within 0.03 s and 3 sd"
Within within_of(const std::string& text) {
  const auto words = parted(text, ' ');
  const bool plain = words.size() == 3;
  if ((!plain && words.size() != 6) || words[0] != "within" || words[2] != "s" ||
      (!plain && (words[3] != "and" || words[5] != "sd"))) {
    throw std::runtime_error("'" + text + "' is no tolerance");
  }
  return {number_of<double>(words[1]), plain ? 0.0 : number_of<double>(words[4])};
}

Instant instant_of(const std::string& text) {
  const auto time = parse_iso8601(text);
  if (!time) {
    throw std::runtime_error("'" + text + "' is no time");
  }
  return time->instant;
}

void need(const std::vector<std::string>& fields, std::size_t count) {
  if (fields.size() != count) {
    throw std::runtime_error("'" + fields[0] + "' has " + std::to_string(fields.size() - 1) +
                             " fields, not " + std::to_string(count - 1));
  }
}

CaseLog& log_of(Case& c) {
  if (c.logs.empty()) {
    throw std::runtime_error("a 'file' line must come first");
  }
  return c.logs.back();
}

bool take_header(Case& c, const std::vector<std::string>& f) {
  const std::string& key = f[0];
  std::string* text = key == "origin"    ? &c.origin
                      : key == "licence" ? &c.licence
                      : key == "splits"  ? &c.splits
                                         : nullptr;
  if (text != nullptr) {
    need(f, 2);
    *text = f[1];
  } else if (key == "pairs") {
    need(f, 2);
    c.pairs = number_of<int>(f[1]);
  } else if (key == "file") {
    need(f, 2);
    c.logs.push_back({.file = f[1]});
  } else {
    return false;
  }
  return true;
}

bool take_log_line(Case& c, const std::vector<std::string>& f) {
  const std::string& key = f[0];
  if (key == "runs") {
    need(f, 2);
    log_of(c).runs = number_of<int>(f[1]);
  } else if (key == "launch" || key == "clock") {
    need(f, 4);
    auto& list = key == "launch" ? log_of(c).launches : log_of(c).clocks;
    list.push_back({number_of<int>(f[1]), instant_of(f[2]), within_of(f[3])});
  } else if (key == "split") {
    need(f, 5);
    log_of(c).splits.push_back({number_of<int>(f[1]), f[2], seconds_of(f[3]), within_of(f[4])});
  } else if (key == "rejected") {
    need(f, 3);
    log_of(c).rejected.push_back({instant_of(f[1]), parted(f[2], '|')});
  } else {
    return false;
  }
  return true;
}

bool take_result_line(Case& c, const std::vector<std::string>& f) {
  if (f[0] == "two-way") {
    need(f, 6);
    const auto one = parted(f[1], ' ');
    const auto other = parted(f[2], ' ');
    if (one.size() != 2 || other.size() != 2) {
      throw std::runtime_error("'two-way' names two runs as FILE NUMBER");
    }
    c.two_ways.push_back({one[0], number_of<int>(one[1]), other[0], number_of<int>(other[1]), f[3],
                          seconds_of(f[4]), within_of(f[5])});
  } else if (f[0] == "change") {
    need(f, 4);
    c.changes.push_back({f[1], seconds_of(f[2]), within_of(f[3])});
  } else {
    return false;
  }
  return true;
}

void take_line(Case& c, const std::string& line) {
  if (line.empty()) {
    return;
  }
  if (line[0] == '#') {
    if (c.title.empty() && line.size() > 2) {
      c.title = line.substr(2);
    }
    return;
  }
  const auto fields = fields_of(line);
  if (!take_header(c, fields) && !take_log_line(c, fields) && !take_result_line(c, fields)) {
    throw std::runtime_error("'" + fields[0] + "' is no word of a case");
  }
}

}  // namespace

Case read_case(const std::filesystem::path& path) {
  std::ifstream in(path);
  if (!in) {
    throw std::runtime_error(path.string() + ": cannot be opened");
  }
  Case c;
  c.folder = path.parent_path();
  std::string line;
  for (std::size_t number = 1; std::getline(in, line); ++number) {
    try {
      take_line(c, line);
    } catch (const std::runtime_error& error) {
      throw std::runtime_error(path.string() + ":" + std::to_string(number) + ": " + error.what());
    }
  }
  if (c.origin.empty() || c.licence.empty() || c.logs.empty()) {
    throw std::runtime_error(path.string() + ": a case needs origin, licence and file");
  }
  return c;
}

std::vector<std::filesystem::path> find_cases(const std::filesystem::path& root) {
  std::vector<std::filesystem::path> found;
  for (const auto& entry : std::filesystem::directory_iterator(root)) {
    if (entry.is_directory() && std::filesystem::exists(entry.path() / "case.txt")) {
      found.push_back(entry.path() / "case.txt");
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace bothways::sim
