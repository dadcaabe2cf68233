// Where results go: standard output, or a file that is there whole or not at all.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "status.hpp"

namespace raceward::command {

/// Writes to standard output. Tells on standard error where that fails.
Status write_standard(std::string_view text);

/// Writes a file: beside it first, then renamed into its place, so that what was there stays until the new is
/// whole. Devices and pipes are written directly. Tells on standard error where that fails.
Status write_file(const std::string& path, std::string_view text);

/// Refuses an output that is one of the inputs, or a folder.
Status admit_output(const std::string& path, const std::vector<std::string>& inputs);

/// "raceward: ..." on standard error.
void complain(std::string_view text);

}  // namespace raceward::command
