#include "output.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <utility>

namespace raceward::command {

namespace fs = std::filesystem;

namespace {

/// Opened anew; one that a killed process of our number left is no obstacle.
std::FILE* open_new(const std::string& path) {
  std::FILE* file = std::fopen(path.c_str(), "wbx");
  if (file != nullptr || errno != EEXIST) return file;
  std::remove(path.c_str());
  return std::fopen(path.c_str(), "wbx");
}

/// The new file belongs to whom the old one did, and the same people may read it. Where its group cannot be
/// kept, the other group may do what everybody may.
bool take_over(std::FILE* file, const struct stat& old) {
  const int number = fileno(file);
  const bool kept =
      fchown(number, old.st_uid, old.st_gid) == 0 || fchown(number, static_cast<uid_t>(-1), old.st_gid) == 0;
  constexpr mode_t group = S_IRWXG, all = S_IRWXU | S_IRWXG | S_IRWXO;
  const mode_t others = (old.st_mode & S_IRWXO) << 3;
  return fchmod(number, kept ? old.st_mode & all : (old.st_mode & all & ~group) | others) == 0;
}

/// Standard output of our own.
std::FILE*& standard() {
  static std::FILE* file = stdout;
  return file;
}

}  // namespace

void keep_standard_output() {
  if (standard() != stdout) return;
  std::fflush(stdout);
  const int own = dup(STDOUT_FILENO);
  std::FILE* const file = own < 0 ? nullptr : fdopen(own, "wb");
  if (file == nullptr) return;
  dup2(STDERR_FILENO, STDOUT_FILENO);
  standard() = file;
}

void end_with(Status status) {
  if (standard() == stdout) return;
  std::fflush(standard());
  std::_Exit(static_cast<int>(status));
}

void complain(std::string_view text) {
  std::string line(text);
  for (char& c : line) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';  // names may hold anything
  }
  std::fprintf(stderr, "raceward: %s\n", line.c_str());
}

Output::~Output() {
  if (file_ == nullptr || file_ == standard()) return;
  std::fclose(file_);
  if (!beside_.empty()) std::remove(beside_.c_str());
}

void Output::fail(const std::string& what, int error, Status status) {
  status_ = status;
  complain(what + ": cannot be written: " + std::strerror(error));
}

void Output::open() {
  if (path_.empty()) {
    file_ = standard();
    return;
  }
  std::error_code ignored;
  const fs::file_status now = fs::status(path_, ignored);
  if (fs::exists(now) && !fs::is_regular_file(now)) {
    file_ = std::fopen(path_.c_str(), "wb");
  } else {
    // A link stays a link: what it points to is replaced.
    target_ = fs::exists(now) ? fs::canonical(path_, ignored).string() : path_;
    beside_ = target_ + "." + std::to_string(getpid()) + ".part";
    struct stat old {};
    const bool replaces = stat(target_.c_str(), &old) == 0;
    // A rename would not ask whether the file may be written.
    constexpr mode_t writable = S_IWUSR | S_IWGRP | S_IWOTH;
    if (replaces && access(target_.c_str(), W_OK) != 0) return fail(path_, errno, Status::usage);
    if (replaces && (old.st_mode & writable) == 0) return fail(path_, EACCES, Status::usage);
    file_ = open_new(beside_);
    if (file_ != nullptr && replaces && !take_over(file_, old)) return fail(path_, errno, Status::usage);
  }
  if (file_ == nullptr) fail(path_, errno, Status::usage);
}

void Output::write(std::string_view piece) {
  if (status_ == Status::complies && file_ == nullptr) open();
  if (status_ != Status::complies) return;
  const bool whole = std::fwrite(piece.data(), 1, piece.size(), file_) == piece.size();
  if (whole && std::fflush(file_) == 0) return;
  fail(path_.empty() ? "standard output" : path_, errno, Status::internal);
}

Status Output::finish() {
  write({});
  if (status_ != Status::complies) return status_;
  std::FILE* const file = std::exchange(file_, nullptr);
  // What replaces a file is on the disk before it does: a machine that loses power has the one or the other.
  const bool kept = beside_.empty() || (std::fflush(file) == 0 && fsync(fileno(file)) == 0);
  const bool closed = (file == standard() ? std::fflush(file) == 0 : std::fclose(file) == 0) && kept;
  if (closed && (beside_.empty() || std::rename(beside_.c_str(), target_.c_str()) == 0)) return status_;
  const int error = errno;
  if (!beside_.empty()) std::remove(beside_.c_str());
  fail(path_.empty() ? "standard output" : path_, error, Status::internal);
  return status_;
}

Status write_standard(std::string_view text) { return write_file({}, text); }

Status write_file(const std::string& path, std::string_view text) {
  Output out(path);
  out.write(text);
  return out.finish();
}

Status admit_output(const std::string& path, const std::vector<std::string>& inputs) {
  std::error_code ignored;
  if (path.empty()) return Status::complies;
  if (fs::is_directory(path, ignored)) {
    complain(path + ": is a folder; --output names a file");
    return Status::usage;
  }
  for (const std::string& input : inputs) {
    if (!fs::equivalent(path, input, ignored)) continue;
    complain(path + ": is an input; --output would replace it");
    return Status::usage;
  }
  return Status::complies;
}

}  // namespace raceward::command
