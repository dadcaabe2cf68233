#include "output.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

namespace raceward::command {

namespace fs = std::filesystem;

namespace {

bool write_all(std::FILE* file, std::string_view text) {
  return std::fwrite(text.data(), 1, text.size(), file) == text.size() && std::fflush(file) == 0;
}

Status cannot_write(const std::string& path, int error, Status status) {
  complain(path + ": cannot be written: " + std::strerror(error));
  return status;
}

Status write_directly(const std::string& path, std::string_view text) {
  std::FILE* file = std::fopen(path.c_str(), "wb");
  if (file == nullptr) return cannot_write(path, errno, Status::usage);
  const bool written = write_all(file, text);
  const int error = errno;
  if (std::fclose(file) != 0 || !written)
    return cannot_write(path, written ? errno : error, Status::internal);
  return Status::complies;
}

}  // namespace

void complain(std::string_view text) {
  std::string line(text);
  for (char& c : line) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';  // names may hold anything
  }
  std::fprintf(stderr, "raceward: %s\n", line.c_str());
}

Status write_standard(std::string_view text) {
  if (write_all(stdout, text)) return Status::complies;
  complain(std::string("standard output: cannot be written: ") + std::strerror(errno));
  return Status::internal;
}

Status write_file(const std::string& path, std::string_view text) {
  std::error_code ignored;
  const fs::file_status now = fs::status(path, ignored);
  if (fs::exists(now) && !fs::is_regular_file(now)) return write_directly(path, text);

  // A link stays a link: what it points to is replaced.
  const fs::path target = fs::exists(now) ? fs::canonical(path, ignored) : fs::path(path);
  const std::string beside = target.string() + "." + std::to_string(getpid()) + ".part";
  std::FILE* file = std::fopen(beside.c_str(), "wbx");
  if (file == nullptr && errno == EEXIST) {
    // Of a process that had our number and was killed.
    std::remove(beside.c_str());
    file = std::fopen(beside.c_str(), "wbx");
  }
  if (file == nullptr) return cannot_write(path, errno, Status::usage);
  bool good = write_all(file, text);
  int error = errno;
  if (std::fclose(file) != 0 && good) {
    good = false;
    error = errno;
  }
  if (good && std::rename(beside.c_str(), target.c_str()) != 0) {
    good = false;
    error = errno;
  }
  if (good) return Status::complies;
  std::remove(beside.c_str());
  return cannot_write(path, error, Status::internal);
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
