// Reads a file into memory.
#include <fmt/format.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

#include "document/load.hpp"
#include "document/memory.hpp"
#include "document/strict.hpp"

namespace raceward {
namespace {

struct Close {
  void operator()(std::FILE* file) const { std::fclose(file); }
};

Loaded failed(const std::string& path, std::string message) {
  Loaded loaded;
  loaded.problems.push_back({{path, 0, 0}, std::move(message)});
  return loaded;
}

std::string reason(int error) { return std::generic_category().message(error); }

}  // namespace

Loaded load_file(const std::string& path, unsigned threads) {
  namespace fs = std::filesystem;
  std::error_code ignored;
  const fs::file_type type = fs::status(path, ignored).type();
  if (type == fs::file_type::directory) return failed(path, "this is a directory; name a file");
  if (type == fs::file_type::character || type == fs::file_type::block)
    return failed(path, "this is a device; name a file");  // some never end
  const std::unique_ptr<std::FILE, Close> file(std::fopen(path.c_str(), "rb"));
  if (!file) return failed(path, fmt::format("the file cannot be opened: {}", reason(errno)));
  std::setvbuf(file.get(), nullptr, _IONBF, 0);
  std::string bytes;
  if (const auto size = fs::file_size(path, ignored); !ignored) {
    if (size > document::most_bytes) return failed(path, document::too_large);
    bytes.reserve(static_cast<std::size_t>(size) + loading_room);
    document::advise_large(bytes.data(), bytes.capacity());
  }
  const auto block = std::make_unique<std::array<char, std::size_t{256} << 10>>();
  for (;;) {
    const std::size_t got = std::fread(block->data(), 1, block->size(), file.get());
    bytes.append(block->data(), got);
    if (got < block->size() || bytes.size() > document::most_bytes) break;
  }
  if (std::ferror(file.get()) != 0)
    return failed(path, fmt::format("the file cannot be read: {}", reason(errno)));
  return document::load(std::move(bytes), path, threads);
}

}  // namespace raceward
