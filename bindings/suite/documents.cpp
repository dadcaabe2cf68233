// Which installations a suite has.
#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "laws.hpp"
#include "suite.hpp"

namespace raceward::suite {

namespace {

namespace fs = std::filesystem;

std::string said(const std::error_code& error) { return std::strerror(error.value()); }

/// The whole of a small file; false, and told, where it cannot be read.
bool read_file(const fs::path& file, std::string& text, std::vector<Problem>& problems) {
  std::error_code error;
  if (!fs::is_regular_file(file, error)) {
    problems.push_back({{file.string(), 0, 0}, "it is no file that can be read"});
    return false;
  }
  std::ifstream in(file, std::ios::binary);
  const std::uintmax_t size = fs::file_size(file, error);
  if (!error) {
    // Room for the loader, which then needs no copy. A file that is changed just now may be longer or
    // shorter.
    text.reserve(size + loading_room);
    text.resize(size);
    in.read(text.data(), static_cast<std::streamsize>(size));
    text.resize(static_cast<std::size_t>(std::max<std::streamsize>(in.gcount(), 0)));
    if (in.good()) text.append(std::istreambuf_iterator<char>(in), {});
  }
  if (!error && (in.good() || in.eof())) return true;
  problems.push_back(
      {{file.string(), 0, 0},
       "the file cannot be read: " + (error ? said(error) : std::string(std::strerror(errno)))});
  return false;
}

/// Whether the root element is that of a ruleset. Only its beginning is looked at.
bool is_ruleset(std::string_view text) {
  for (std::size_t at = text.find('<'); at != std::string_view::npos; at = text.find('<', at)) {
    std::string_view rest = text.substr(at);
    if (rest.starts_with("<!--")) {
      at = text.find("-->", at);
    } else if (rest.starts_with("<?")) {
      at = text.find("?>", at);
    } else {
      rest.remove_prefix(1);
      if (const std::size_t colon = rest.find(':'); colon < rest.find_first_of(" \t\r\n/>")) {
        rest.remove_prefix(colon + 1);
      }
      return rest.starts_with("ruleset") && rest.find_first_of(" \t\r\n/>") == std::strlen("ruleset");
    }
    if (at == std::string_view::npos) return false;
  }
  return false;
}

/// What is below a folder, sorted, but for folders. Links to folders are not followed, so that none leads in
/// a circle; what cannot be read is told, and the rest goes on.
std::vector<fs::path> files_below(const fs::path& folder, std::vector<Problem>& problems) {
  std::vector<fs::path> out;
  std::error_code error;
  for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    std::error_code ignored;
    if (at->is_directory(ignored)) {
      if (at->is_symlink(ignored)) {
        problems.push_back(
            {{at->path().string(), 0, 0}, "links to folders are not followed; name the folder"});
        continue;
      }
      const std::vector<fs::path> below = files_below(at->path(), problems);
      out.insert(out.end(), below.begin(), below.end());
    } else {
      out.push_back(at->path());
    }
  }
  if (error) problems.push_back({{folder.string(), 0, 0}, "the folder cannot be read: " + said(error)});
  std::sort(out.begin(), out.end());
  return out;
}

class Collector {
 public:
  /// With several paths names begin with theirs, so that no two documents have one name.
  Collector(bool several, std::vector<Problem>& problems) : several_(several), problems_(problems) {}

  void add(const std::string& path) {
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) {
      problems_.push_back({{path, 0, 0}, "there is no such folder or file"});
    } else if (!fs::is_directory(status)) {
      document(path, several_ ? path : fs::path(path).filename().string());
    } else {
      const std::vector<fs::path> files = files_below(path, problems_);
      for (const fs::path& file : files) {
        if (file.extension() == ".xml")
          document(file, several_ ? file.generic_string() : file.lexically_relative(path).generic_string());
      }
      for (const fs::path& file : files) {
        if (file.extension() == ".expect") belongs(file);
      }
    }
  }

  std::vector<Document> documents;

 private:
  void document(const fs::path& file, std::string name) {
    std::error_code error;
    if (!seen_.insert(fs::absolute(file, error).lexically_normal()).second) return;
    Document out;
    out.file = file.string();
    out.name = std::move(name);
    out.sidecar = fs::path(file).replace_extension(".expect").string();
    if (!read_file(file, out.text, problems_) || is_ruleset(out.text)) return;
    if (fs::path(out.sidecar).filename() == for_all) {
      problems_.push_back(
          {{out.file, 0, 0},
           "a document of a suite cannot have this name: all.expect holds for all of its folder"});
      return;
    }
    const fs::path folder = file.parent_path();
    read_comments(out.text, out.file, out.expected);
    sentences(folder / for_all, out.expected);
    sentences(out.sidecar, out.expected);
    settle(out.expected);
    expected_.insert((folder / for_all).lexically_normal());
    if (!expected_.insert(fs::path(out.sidecar).lexically_normal()).second)
      out.expected.problems.push_back(
          {{out.sidecar, 0, 0}, "two documents would have this file of expectations"});
    documents.push_back(std::move(out));
  }

  /// A file of expectations that no document has read is no use to anybody.
  void belongs(const fs::path& file) {
    if (expected_.count(file.lexically_normal()) == 0)
      problems_.push_back({{file.string(), 0, 0},
                           file.filename() == for_all ? "there is no document in this folder"
                                                      : "no document beside it has its name"});
  }

  void sentences(const fs::path& file, Expectations& out) {
    std::error_code error;
    if (!fs::exists(fs::symlink_status(file, error))) return;
    std::string text;
    if (read_file(file, text, out.problems)) read_sentences(text, file.string(), out);
  }

  bool several_;
  std::vector<Problem>& problems_;
  std::set<fs::path> seen_, expected_;
};

}  // namespace

std::vector<Document> documents_of(const std::vector<std::string>& paths, std::vector<Problem>& problems) {
  Collector all(paths.size() > 1, problems);
  for (const std::string& path : paths) all.add(path);
  std::stable_sort(all.documents.begin(), all.documents.end(),
                   [](const Document& a, const Document& b) { return a.name < b.name; });
  return std::move(all.documents);
}

std::vector<Document> chosen(std::vector<Document> documents, const Choice& choice) {
  const auto named = [&](const Document& d) {
    return choice.only.empty() ||
           std::any_of(choice.only.begin(), choice.only.end(), [&](const std::string& word) {
             return d.name.find(word) != std::string::npos || d.file.find(word) != std::string::npos;
           });
  };
  std::erase_if(documents, [&](const Document& d) { return !named(d); });
  // Every so many of the sorted names: shards stay of like weight, and each document is in one of them.
  std::vector<Document> out;
  for (std::size_t i = 0; i < documents.size(); ++i) {
    if (i % choice.shards == choice.shard - 1) out.push_back(std::move(documents[i]));
  }
  return out;
}

}  // namespace raceward::suite
