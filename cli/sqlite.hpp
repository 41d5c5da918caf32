#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

struct sqlite3;

namespace bothways::cli {

/// Bytes by key in an SQLite file, for a cache: nothing here fails, it only finds nothing. A file that is
/// damaged, or no such table, is removed and made anew.
class SqliteTable {
 public:
  /// @param path  made with its folders where it is not there, readable by its owner alone
  explicit SqliteTable(std::string path);
  SqliteTable(const SqliteTable&) = delete;
  SqliteTable(SqliteTable&&) = delete;
  SqliteTable& operator=(const SqliteTable&) = delete;
  SqliteTable& operator=(SqliteTable&&) = delete;
  ~SqliteTable();

  [[nodiscard]] std::optional<std::string> find(const std::string& key);
  /// All in one transaction, and entries of more than half a year ago out. Waits a while for other processes.
  void put(const std::vector<std::pair<std::string, std::string>>& entries);

 private:
  struct Closer {
    void operator()(sqlite3* db) const;
  };

  [[nodiscard]] int open();  ///< SQLITE_OK, or what is wrong
  void remake();

  std::string path_;
  std::unique_ptr<sqlite3, Closer> db_;
};

}  // namespace bothways::cli
