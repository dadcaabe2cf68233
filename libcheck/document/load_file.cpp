// Reads a file into memory.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

#include "document/load.hpp"
#include "document/memory.hpp"
#include "document/parallel.hpp"
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

void read_all(std::FILE* file, std::string& bytes) {
  const auto block = std::make_unique<std::array<char, std::size_t{256} << 10>>();
  for (;;) {
    const std::size_t got = std::fread(block->data(), 1, block->size(), file);
    bytes.append(block->data(), got);
    if (got < block->size() || bytes.size() > document::most_bytes) break;
  }
}

/// To clear new memory takes as long as to read a file into it: for a large one another thread touches the
/// second half meanwhile.
void read_large(std::FILE* file, std::string& bytes) {
  document::TouchAhead ahead;
  const std::size_t half = bytes.capacity() / 2;
  ahead.add(bytes.data() + half, bytes.capacity() - half);
  std::atomic<bool> reading = false;
  document::on_threads(std::min(document::machine_threads(), 2U), [&] {
    if (!reading.exchange(true)) return read_all(file, bytes);
    while (ahead.some()) {
    }
  });
}

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
  constexpr std::size_t large = std::size_t{16} << 20;  // bytes that are worth a thread
  if (threads == 1 || bytes.capacity() < large)
    read_all(file.get(), bytes);
  else
    read_large(file.get(), bytes);
  if (std::ferror(file.get()) != 0)
    return failed(path, fmt::format("the file cannot be read: {}", reason(errno)));
  return document::load(std::move(bytes), path, threads);
}

}  // namespace raceward
