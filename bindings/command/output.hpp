// Where results go: standard output, or a file that is there whole or not at all.
#pragma once

#include <cstdio>
#include <string>
#include <string_view>
#include <vector>

#include "status.hpp"

namespace raceward::command {

/// Where a long result goes piece by piece: standard output where `path` is empty, else a file. A file is
/// written beside its place and renamed into it by finish(), so that what was there stays until the new is
/// whole, and stays for good without finish(). Devices and pipes are written directly. The first failure is
/// told on standard error, and what follows it is dropped.
class Output {
 public:
  explicit Output(std::string path) : path_(std::move(path)) {}
  Output(const Output&) = delete;
  Output& operator=(const Output&) = delete;
  ~Output();

  void write(std::string_view piece);
  Status finish();

 private:
  void open();
  void fail(const std::string& what, int error, Status status);

  std::string path_, target_, beside_;  // beside_ is empty where the file is written directly
  std::FILE* file_ = nullptr;
  Status status_ = Status::complies;
};

/// From here on only what this program writes itself goes to standard output, and what modules print goes to
/// standard error: a report in JSON stays one.
void keep_standard_output();
/// Where modules are loaded, the end: with this status, whatever they would do at it.
void end_with(Status status);

/// Writes to standard output. Tells on standard error where that fails.
Status write_standard(std::string_view text);

/// Writes a file, whole or not at all, as Output does.
Status write_file(const std::string& path, std::string_view text);

/// Refuses an output that is one of the inputs, or a folder.
Status admit_output(const std::string& path, const std::vector<std::string>& inputs);

/// "raceward: ..." on standard error.
void complain(std::string_view text);

}  // namespace raceward::command
