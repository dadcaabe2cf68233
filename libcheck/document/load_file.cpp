// Reads a file into memory.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <system_error>

#if defined(__linux__)
#include <unistd.h>
#endif

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

/// Two threads read a large file side by side: to clear new memory takes as long as to read into it. Nothing
/// where not all of it comes so.
std::optional<installation::Bytes> read_side_by_side([[maybe_unused]] std::FILE* file,
                                                     [[maybe_unused]] std::size_t size) {
#if defined(__linux__)
  auto block = std::make_unique_for_overwrite<char[]>(size + installation::Bytes::padding);
  document::advise_large(block.get(), size);
  constexpr std::size_t part = std::size_t{4} << 20;
  std::atomic<std::size_t> next = 0, read = 0;
  document::on_threads(std::min(document::machine_threads(), 2U), [&] {
    for (std::size_t at = next.fetch_add(part); at < size; at = next.fetch_add(part)) {
      const std::size_t end = std::min(at + part, size);
      for (std::size_t from = at; from < end;) {
        const ssize_t got = pread(fileno(file), block.get() + from, end - from, static_cast<off_t>(from));
        if (got <= 0) return;
        from += static_cast<std::size_t>(got);
        read += static_cast<std::size_t>(got);
      }
    }
  });
  if (read == size) return installation::Bytes(std::move(block), size);
#endif
  return std::nullopt;
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
    const auto known = static_cast<std::size_t>(size);
    constexpr std::size_t large = std::size_t{16} << 20;  // bytes that are worth a thread
    if (threads != 1 && known >= large) {
      if (auto whole = read_side_by_side(file.get(), known))
        return document::load(std::move(*whole), path, threads);
    }
    bytes.reserve(known + loading_room);
    document::advise_large(bytes.data(), bytes.capacity());
  }
  read_all(file.get(), bytes);
  if (std::ferror(file.get()) != 0)
    return failed(path, fmt::format("the file cannot be read: {}", reason(errno)));
  return document::load(installation::Bytes(std::move(bytes)), path, threads);
}

}  // namespace raceward
