#include "cli/sqlite.hpp"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <limits>
#include <system_error>

namespace bothways::cli {

namespace {

constexpr int busy_ms = 5000;
constexpr int key_at = 1;
constexpr int bytes_at = 2;

struct Finalizer {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};
using Statement = std::unique_ptr<sqlite3_stmt, Finalizer>;

Statement prepared(sqlite3* db, const char* sql, int& status) {
  sqlite3_stmt* statement = nullptr;
  status = sqlite3_prepare_v2(db, sql, -1, &statement, nullptr);
  return Statement(statement);
}

int bind(sqlite3_stmt* statement, int at, const std::string& bytes) {
  return bytes.size() > static_cast<std::size_t>(std::numeric_limits<int>::max())
             ? SQLITE_TOOBIG
             : sqlite3_bind_blob(statement, at, bytes.data(), static_cast<int>(bytes.size()), SQLITE_STATIC);
}

/// Whether the file itself is what is wrong.
bool is_damage(int status) {
  return status == SQLITE_CORRUPT || status == SQLITE_NOTADB || status == SQLITE_ERROR;
}

int execute(sqlite3* db, const char* sql) {
  return sqlite3_exec(db, sql, nullptr, nullptr, nullptr);
}

int put_all(sqlite3* db, const std::vector<std::pair<std::string, std::string>>& entries) {
  int status = SQLITE_OK;
  const Statement put =
      prepared(db, "INSERT OR REPLACE INTO entry(key, bytes, day) VALUES(?, ?, julianday('now'))", status);
  for (const auto& [key, bytes] : entries) {
    if (status == SQLITE_OK) {
      sqlite3_reset(put.get());
      bind(put.get(), key_at, key);
      bind(put.get(), bytes_at, bytes);
      status = sqlite3_step(put.get());
      status = status == SQLITE_DONE ? SQLITE_OK : status;
    }
  }
  return status == SQLITE_OK ? execute(db, "DELETE FROM entry WHERE day < julianday('now') - 180") : status;
}

}  // namespace

void SqliteTable::Closer::operator()(sqlite3* db) const {
  sqlite3_close(db);
}

SqliteTable::SqliteTable(std::string path) : path_(std::move(path)) {
  std::error_code ignored;
  std::filesystem::create_directories(std::filesystem::path(path_).parent_path(), ignored);
  const int status = open();
  if (is_damage(status)) {
    remake();
  } else if (status != SQLITE_OK) {
    db_.reset();
  }
}

SqliteTable::~SqliteTable() = default;

int SqliteTable::open() {
  // SQLite would make the file readable by all; its journal takes the rights of the file.
  const int made = ::open(path_.c_str(), O_CREAT | O_RDWR | O_CLOEXEC, S_IRUSR | S_IWUSR);
  if (made < 0) {
    return SQLITE_CANTOPEN;
  }
  ::close(made);
  sqlite3* db = nullptr;
  int status = sqlite3_open_v2(path_.c_str(), &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_FULLMUTEX, nullptr);
  db_.reset(db);
  if (status == SQLITE_OK) {
    sqlite3_busy_timeout(db, busy_ms);
    status = execute(db,
                     "CREATE TABLE IF NOT EXISTS entry(key BLOB PRIMARY KEY, bytes BLOB NOT NULL, day REAL "
                     "NOT NULL)");
  }
  if (status == SQLITE_OK) {
    (void)prepared(db, "SELECT key, bytes, day FROM entry LIMIT 1", status);
  }
  return status;
}

void SqliteTable::remake() {
  db_.reset();
  std::error_code ignored;
  std::filesystem::remove(path_, ignored);
  std::filesystem::remove(path_ + "-journal", ignored);
  if (open() != SQLITE_OK) {
    db_.reset();
  }
}

std::optional<std::string> SqliteTable::find(const std::string& key) {
  if (!db_) {
    return std::nullopt;
  }
  int status = SQLITE_OK;
  std::optional<std::string> bytes;
  {
    const Statement get = prepared(db_.get(), "SELECT bytes FROM entry WHERE key = ?", status);
    if (status == SQLITE_OK) {
      bind(get.get(), key_at, key);
      status = sqlite3_step(get.get());
      if (status == SQLITE_ROW) {
        const auto* blob = static_cast<const char*>(sqlite3_column_blob(get.get(), 0));
        const int size = sqlite3_column_bytes(get.get(), 0);
        bytes = blob == nullptr ? std::string() : std::string(blob, static_cast<std::size_t>(size));
      }
    }
  }
  if (is_damage(status)) {
    remake();
  }
  return bytes;
}

void SqliteTable::put(const std::vector<std::pair<std::string, std::string>>& entries) {
  for (int attempt = 0; attempt < 2 && db_; ++attempt) {
    int status = execute(db_.get(), "BEGIN IMMEDIATE");
    if (status == SQLITE_OK) {
      status = put_all(db_.get(), entries);
      status = status == SQLITE_OK ? execute(db_.get(), "COMMIT") : status;
      if (status != SQLITE_OK) {
        (void)execute(db_.get(), "ROLLBACK");
      }
    }
    if (!is_damage(status)) {
      return;
    }
    remake();
  }
}

}  // namespace bothways::cli
