// Which installations a suite has.
#include <algorithm>
#include <cerrno>
#include <cstring>
#include <deque>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

#include "laws.hpp"
#include "markup.hpp"
#include "parallel.hpp"
#include "suite.hpp"

namespace raceward::suite {

namespace {

namespace fs = std::filesystem;

std::string said(const std::error_code& error) { return std::strerror(error.value()); }

/// The whole of a small file; false, and told, where it cannot be read.
bool read_file(const std::string& file, std::string& text, std::vector<Problem>& problems) {
  std::error_code error;
  if (!fs::is_regular_file(file, error)) {
    problems.push_back({{file, 0, 0}, "it is no file that can be read"});
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
      {{file, 0, 0},
       "the file cannot be read: " + (error ? said(error) : std::string(std::strerror(errno)))});
  return false;
}

/// Whether the root element is that of a ruleset. Only its beginning is looked at.
bool is_ruleset(std::string_view text) {
  for (std::size_t at = text.find('<'); at != std::string_view::npos;) {
    const std::size_t past = past_aside(text, at);
    if (past == at) {
      std::string_view rest = text.substr(at + 1);
      if (const std::size_t colon = rest.find(':'); colon < rest.find_first_of(" \t\r\n/>")) {
        rest.remove_prefix(colon + 1);
      }
      return rest.starts_with("ruleset") && rest.find_first_of(" \t\r\n/>") == std::strlen("ruleset");
    }
    at = past == std::string_view::npos ? past : text.find('<', past);
  }
  return false;
}

/// What is below a folder, sorted; folders only where their names are those of expectations, which they
/// cannot hold. Links to folders are not followed, so that none leads in a circle; what cannot be read is
/// told, and the rest goes on.
void files_below(const fs::path& folder, std::vector<std::string>& out, std::vector<Problem>& problems) {
  const std::size_t before = out.size();
  std::error_code error;
  for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    std::error_code ignored;
    const bool is_folder = at->is_directory(ignored);
    if (!is_folder || at->path().extension() == ".expect") out.push_back(at->path().string());
    if (!is_folder) continue;
    if (at->is_symlink(ignored)) {
      problems.push_back({{at->path().string(), 0, 0}, "links to folders are not followed; name the folder"});
    } else {
      files_below(at->path(), out, problems);
    }
  }
  if (error) problems.push_back({{folder.string(), 0, 0}, "the folder cannot be read: " + said(error)});
  std::sort(out.begin() + static_cast<std::ptrdiff_t>(before), out.end());
}

/// A file of a suite with what is read of it.
struct Candidate {
  Document document;
  const std::string* beside = nullptr;      ///< path of the all.expect of its folder
  const std::string* for_folder = nullptr;  ///< what that says; null where there is none
  bool has_sidecar = false;
  bool is_document = false;
  std::vector<Problem> problems;
};

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
      const auto there = [](const fs::path& file) {
        std::error_code ignored;
        return fs::exists(fs::symlink_status(file, ignored));
      };
      candidate(path, several_ ? path : fs::path(path).filename().string(), there);
    } else {
      std::vector<std::string> files;
      files_below(path, files, problems_);
      const auto there = [&](const fs::path& file) {
        return std::binary_search(files.begin(), files.end(), file.string());
      };
      for (const std::string& file : files) {
        if (file.ends_with(".xml"))
          candidate(file, several_ ? file : fs::path(file).lexically_relative(path).generic_string(), there);
      }
      for (std::string& file : files) {
        if (file.ends_with(".expect") && !fs::is_directory(file, error))
          sentences_.push_back(std::move(file));
      }
    }
  }

  /// Reads them all, several at once.
  std::vector<Document> read(unsigned threads) {
    each(candidates_.size(), threads, [&](std::size_t i) { read(candidates_[i]); }, {});
    std::vector<Document> out;
    std::set<std::string> expected;
    for (Candidate& c : candidates_) {
      problems_.insert(problems_.end(), c.problems.begin(), c.problems.end());
      if (!c.is_document) continue;
      expected.insert(key(*c.beside));
      if (!expected.insert(key(c.document.sidecar)).second)
        c.document.expected.problems.push_back(
            {{c.document.sidecar, 0, 0}, "two documents would have this file of expectations"});
      out.push_back(std::move(c.document));
    }
    // A file of expectations that no document has read is no use to anybody.
    for (const std::string& file : sentences_) {
      if (expected.count(key(file)) == 0)
        problems_.push_back({{file, 0, 0},
                             fs::path(file).filename() == for_all ? "there is no document in this folder"
                                                                  : "no document beside it has its name"});
    }
    return out;
  }

 private:
  struct Shared {
    std::string text;
    bool there = false;
    std::vector<Problem> problems;
  };

  /// One file has one key, however it is named.
  [[nodiscard]] std::string key(const std::string& file) const {
    if (!several_) return file;  // there is one way to name it
    std::error_code error;
    return fs::absolute(file, error).lexically_normal().string();
  }
  static std::string beside(const std::string& file) {
    return (fs::path(file).parent_path() / for_all).string();
  }

  template <class There>
  void candidate(const std::string& file, std::string name, There there) {
    if (several_ && !seen_.insert(key(file)).second) return;
    Candidate& out = candidates_.emplace_back();
    out.document.file = file;
    out.document.name = std::move(name);
    out.document.sidecar = fs::path(file).replace_extension(".expect").string();
    out.has_sidecar = there(out.document.sidecar);
    const auto [at, is_new] = shared_.try_emplace(beside(file));
    out.beside = &at->first;
    Shared& shared = at->second;
    if (is_new && there(at->first)) shared.there = read_file(at->first, shared.text, shared.problems);
    out.for_folder = shared.there ? &shared.text : nullptr;
    out.document.expected.problems = shared.problems;
  }

  static void read(Candidate& c) {
    Document& d = c.document;
    if (!read_file(d.file, d.text, c.problems) || is_ruleset(d.text)) return;
    if (fs::path(d.sidecar).filename() == for_all) {
      c.problems.push_back(
          {{d.file, 0, 0},
           "a document of a suite cannot have this name: all.expect holds for all of its folder"});
      return;
    }
    c.is_document = true;
    read_comments(d.text, d.file, d.expected);
    if (c.for_folder != nullptr) read_sentences(*c.for_folder, *c.beside, d.expected);
    std::string text;
    if (c.has_sidecar && read_file(d.sidecar, text, d.expected.problems))
      read_sentences(text, d.sidecar, d.expected);
    settle(d.expected);
  }

  bool several_;
  std::vector<Problem>& problems_;
  std::set<std::string> seen_;
  std::vector<std::string> sentences_;    // files
  std::map<std::string, Shared> shared_;  // all.expect, by path
  std::deque<Candidate> candidates_;
};

}  // namespace

std::vector<Document> documents_of(const std::vector<std::string>& paths, std::vector<Problem>& problems,
                                   unsigned threads) {
  Collector all(paths.size() > 1, problems);
  for (const std::string& path : paths) all.add(path);
  std::vector<Document> documents = all.read(threads);
  std::stable_sort(documents.begin(), documents.end(),
                   [](const Document& a, const Document& b) { return a.name < b.name; });
  return documents;
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
