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

constexpr const char* for_all = "all.expect";

std::string said(const std::error_code& error) { return std::strerror(error.value()); }

/// The whole of a small file; false, and told, where it cannot be read.
bool read_file(const fs::path& file, std::string& text, std::vector<Problem>& problems) {
  std::error_code error;
  if (!fs::is_regular_file(file, error)) {
    problems.push_back({{file.string(), 0, 0}, "it is no file that can be read"});
    return false;
  }
  std::ifstream in(file, std::ios::binary);
  text.assign(std::istreambuf_iterator<char>(in), {});
  if (in.good() || in.eof()) return true;
  problems.push_back(
      {{file.string(), 0, 0}, "the file cannot be read: " + std::string(std::strerror(errno))});
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

/// Files below a folder, sorted; links to folders are not followed, so that none leads in a circle.
std::vector<fs::path> files_below(const fs::path& folder, std::vector<Problem>& problems) {
  std::vector<fs::path> out;
  std::error_code error;
  for (fs::recursive_directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    std::error_code ignored;
    if (at->is_regular_file(ignored)) out.push_back(at->path());
  }
  if (error) problems.push_back({{folder.string(), 0, 0}, "the folder cannot be read: " + said(error)});
  std::sort(out.begin(), out.end());
  return out;
}

class Collector {
 public:
  explicit Collector(std::vector<Problem>& problems) : problems_(problems) {}

  void add(const std::string& path) {
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) {
      problems_.push_back({{path, 0, 0}, "there is no such folder or file"});
    } else if (!fs::is_directory(status)) {
      document(path, fs::path(path).filename().string());
    } else {
      const std::vector<fs::path> files = files_below(path, problems_);
      for (const fs::path& file : files) {
        if (file.extension() == ".xml") document(file, file.lexically_relative(path).generic_string());
      }
      for (const fs::path& file : files) {
        if (file.extension() == ".expect" && file.filename() != for_all &&
            !fs::exists(fs::path(file).replace_extension(".xml"), error))
          problems_.push_back({{file.string(), 0, 0}, "no document beside it has its name"});
      }
    }
  }

  std::vector<Document> documents;

 private:
  void document(const fs::path& file, std::string name) {
    std::error_code error;
    const fs::path whole = fs::weakly_canonical(file, error);
    if (!seen_.insert(error ? file : whole).second) return;
    Document out;
    out.file = file.string();
    out.name = std::move(name);
    out.sidecar = fs::path(file).replace_extension(".expect").string();
    if (!read_file(file, out.text, problems_) || is_ruleset(out.text)) return;
    read_comments(out.text, out.file, out.expected);
    sentences(file.parent_path() / for_all, out.expected);
    sentences(out.sidecar, out.expected);
    settle(out.expected);
    documents.push_back(std::move(out));
  }

  void sentences(const fs::path& file, Expectations& out) {
    std::error_code error;
    if (!fs::exists(file, error)) return;
    std::string text;
    if (read_file(file, text, out.problems)) read_sentences(text, file.string(), out);
  }

  std::vector<Problem>& problems_;
  std::set<fs::path> seen_;
};

}  // namespace

std::vector<Document> documents_of(const std::vector<std::string>& paths, std::vector<Problem>& problems) {
  Collector all(problems);
  for (const std::string& path : paths) all.add(path);
  std::stable_sort(all.documents.begin(), all.documents.end(),
                   [](const Document& a, const Document& b) { return a.name < b.name; });
  return std::move(all.documents);
}

std::string law_named(const std::string& name, const std::string& document) {
  const bool is_path = name.find_first_of("./") != std::string::npos;
  return is_path ? (fs::path(document).parent_path() / name).string() : name;
}

std::vector<std::string> rulesets_of(const Document& document, const Installation& installation,
                                     const Choice& choice) {
  if (!choice.under.empty()) return {choice.under};
  std::vector<std::string> out;
  for (const std::string& name : document.expected.under) out.push_back(law_named(name, document.file));
  if (out.empty() && !adopted_ruleset(installation).empty()) out.emplace_back(adopted_ruleset(installation));
  return out;
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
