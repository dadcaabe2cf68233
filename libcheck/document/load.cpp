// Bytes to installation: strict pass, parse in stretches, join, derive.
#include "document/load.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/builder.hpp"
#include "installation/derived.hpp"

namespace raceward {
namespace document {
namespace {

using installation::Model;

// Fragments, because a stretch is a row of elements. Neither comments nor instructions are kept.
constexpr unsigned parse_flags =
    pugi::parse_escapes | pugi::parse_wconv_attribute | pugi::parse_eol | pugi::parse_fragment;

class Loading {
 public:
  Loading(Model& model, Faults& faults) : model_(model), faults_(faults) {}

  // False where nothing could be made of the file.
  bool run() {
    const std::size_t size = model_.bytes.size();
    model_.bytes.append(word_padding, '\0');
    markup_ = scan({model_.bytes.data(), size}, faults_);
    model_.line_starts = std::move(markup_.line_starts);
    if (markup_.malformed || markup_.root_tag.end == 0) return false;
    model_.source = markup_.root_tag.first + 1;
    const std::size_t copy = copy_root_tag(size);
    Builder builder(model_, markup_, faults_);
    pugi::xml_document stretch;
    char* const bytes = model_.bytes.data();
    if (!parse(stretch, bytes + copy, model_.bytes.size() - word_padding - copy, model_.source) ||
        !builder.root(stretch.first_child(), static_cast<installation::Offset>(copy)))
      return false;
    skip_rewritten(markup_.root_tag.end);
    for (const Span& chunk : markup_.chunks) {
      if (!parse(stretch, bytes + chunk.first, chunk.end - chunk.first, chunk.first)) return false;
      close_gaps(chunk.end);
      builder.children(stretch);
    }
    builder.finish();
    return builder.can_derive();
  }

 private:
  // The root's start tag becomes an element of its own, behind the file: a parser takes no half elements.
  std::size_t copy_root_tag(std::size_t size) {
    std::string& bytes = model_.bytes;
    const std::size_t first = markup_.root_tag.first, end = markup_.root_tag.end;
    const bool alone = bytes[end - 2] == '/';
    bytes.resize(size + 1);  // one NUL parts the copy from the file
    bytes.reserve(size + 1 + (end - first) + 1 + word_padding);
    bytes.append(bytes, first, end - first - 1);
    bytes.append(alone ? ">" : "/>");
    bytes.append(word_padding, '\0');
    return size + 1;
  }

  bool parse(pugi::xml_document& stretch, char* at, std::size_t size, installation::Offset source) {
    const pugi::xml_parse_result result =
        stretch.load_buffer_inplace(at, size, parse_flags, pugi::encoding_utf8);
    if (result) return true;
    // Memory, or a disagreement between the strict pass and the parser about what is well-formed.
    faults_.add(source, fmt::format("this part of the document cannot be read: {}", result.description()));
    return false;
  }

  void skip_rewritten(std::uint32_t until) {
    while (next_ < markup_.rewritten.size() && markup_.rewritten[next_].first < until) ++next_;
  }
  // Where a value became shorter, old bytes are left between its end and what follows. NULs take their place,
  // so that the tag can still be read (locate_attribute).
  void close_gaps(std::uint32_t until) {
    for (; next_ < markup_.rewritten.size() && markup_.rewritten[next_].first < until; ++next_) {
      const Span span = markup_.rewritten[next_];
      const auto first = model_.bytes.begin() + span.first, end = model_.bytes.begin() + span.end;
      std::fill(std::find(first, end, '\0'), end + 1, '\0');
    }
  }

  Model& model_;
  Faults& faults_;
  Markup markup_;
  std::size_t next_ = 0;  // of markup_.rewritten
};

}  // namespace

Loaded load(std::string bytes, std::string name) {
  Loaded loaded;
  if (bytes.size() > most_bytes) {
    loaded.problems.push_back({{std::move(name), 0, 0}, too_large});
    return loaded;
  }
  auto* const made = new Installation;
  InstallationPtr installation(made);
  made->model.file = std::move(name);
  made->model.bytes = std::move(bytes);
  Faults faults;
  if (Loading(made->model, faults).run()) {
    made->graph = installation::build_graph(made->model);
    made->routes = installation::derive_routes(made->model, made->graph);
    report_routes(made->model, made->routes, faults);
    if (faults.empty()) {
      made->sections = installation::derive_sections(made->model, made->graph);
      loaded.installation = std::move(installation);
      return loaded;
    }
  }
  loaded.problems = std::move(faults).problems(made->model.file, made->model.line_starts);
  return loaded;
}

}  // namespace document

void InstallationDeleter::operator()(const Installation* installation) const { delete installation; }

Loaded load_bytes(std::string_view bytes, std::string name) {
  std::string copy;
  copy.reserve(bytes.size() + document::loading_room);
  copy.append(bytes);
  return document::load(std::move(copy), std::move(name));
}

std::string_view adopted_ruleset(const Installation& installation) { return installation.model.ruleset; }

}  // namespace raceward
