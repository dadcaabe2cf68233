#include "ruleset/chain.hpp"

#include <algorithm>
#include <filesystem>
#include <optional>

namespace raceward::ruleset {
namespace {

/// More would be no law that anybody can follow; and links in a file system can make a circle look endless.
constexpr std::size_t most_layers = 32;

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == std::string::npos ? std::string{} : path.substr(0, slash + 1);
}

}  // namespace

std::string path_from(const std::string& folder, std::string_view named) {
  while (named.starts_with("./")) named.remove_prefix(2);
  return folder + std::string(named);
}

bool same_path(const std::string& a, const std::string& b) {
  return std::filesystem::path(a).lexically_normal() == std::filesystem::path(b).lexically_normal();
}

namespace {

class Chain {
 public:
  Chain(const Shelf& own, const Shelf& shipped, Problems& problems)
      : own_(own), shipped_(shipped), problems_(problems) {}

  std::vector<Link> read(std::string path) {
    const Shelf* shelf = &own_;
    std::string normal = path;
    while (true) {
      if (!take(*shelf, path)) return {};
      seen_.push_back(shelf->shown + normal);
      const Link& above = links_.back();
      const Field& base = above.layer.base;
      if (!base.written) break;
      if (base.text.empty()) return {};  // said when it was read
      if (is_word(base.text)) {
        const auto found = shipped_.layers.find(base.text);
        if (found == shipped_.layers.end()) return unknown(base);
        shelf = &shipped_;
        path = normal = found->second;
      } else {
        if (base.text.front() == '/' || base.text.find_first_of("\\:") != std::string::npos) {
          return fail(base,
                      "base " + ruleset::quoted(base.text) +
                          " is no path from this layer; write one with slashes, such as ../county/layer.xml");
        }
        path = path_from(above.folder, base.text);
        normal = std::filesystem::path(path).lexically_normal().generic_string();
      }
      const auto again = std::find(seen_.begin(), seen_.end(), shelf->shown + normal);
      if (again != seen_.end()) return circle(base, static_cast<std::size_t>(again - seen_.begin()));
      if (links_.size() == most_layers)
        return fail(base, "more than " + std::to_string(most_layers) + " layers stand one upon another");
    }
    if (!ids_differ()) return {};
    std::reverse(links_.begin(), links_.end());
    return std::move(links_);
  }

 private:
  std::vector<Link> fail(const Field& base, std::string message) {
    problems_.add(links_.back().file, base.offset, std::move(message));
    return {};
  }

  std::vector<Link> unknown(const Field& base) {
    std::vector<std::string_view> ids;
    std::string list;
    for (const auto& [id, path] : shipped_.layers) {
      ids.push_back(id);
      list += (list.empty() ? "" : ", ") + id;
    }
    return fail(base, "no ruleset " + ruleset::quoted(base.text) +
                          " is shipped; shipped: " + (list.empty() ? "none" : list) +
                          suggestion(base.text, ids) + "; the path of a file holds a dot or a slash");
  }

  std::vector<Link> circle(const Field& base, std::size_t from) {
    std::string way;
    for (std::size_t i = from; i < seen_.size(); ++i) way += seen_[i] + " -> ";
    return fail(base, "the bases lead in a circle: " + way + seen_[from]);
  }

  bool take(const Shelf& shelf, const std::string& path) {
    std::optional<std::string> bytes = shelf.read(path);
    if (!bytes && links_.empty()) {
      problems_.add({shelf.shown + path, 0, 0}, "the file cannot be read; give the path of a layer file");
      return false;
    }
    if (!bytes) {
      const Field& base = links_.back().layer.base;
      fail(base, "base " + ruleset::quoted(base.text) + ": " + shelf.shown + path +
                     " cannot be read; write the path of a layer file from the folder of this one");
      return false;
    }
    TextFile file(shelf.shown + path, std::move(*bytes));
    const std::size_t before = problems_.size();
    std::optional<Layer> layer = read_layer(file, problems_);
    const bool good_base = links_.empty() || problems_.size() == before;
    if (!layer || !good_base) return false;
    links_.push_back(
        {&shelf.read, folder_of(path), shelf.shown, std::move(file), std::move(*layer), &shelf == &shipped_});
    return true;
  }

  bool ids_differ() {
    for (std::size_t i = 0; i < links_.size(); ++i) {
      const Field& own = links_[i].layer.id;
      if (!links_[i].shipped && shipped_.layers.contains(own.text)) {
        problems_.add(links_[i].file, own.offset,
                      ruleset::quoted(own.text) +
                          " is the id of a shipped ruleset, and reports could not tell the two apart; give "
                          "this one another id");
        return false;
      }
      for (std::size_t below = i + 1; below < links_.size(); ++below) {
        if (own.text.empty() || own.text != links_[below].layer.id.text) continue;
        problems_.add(links_[i].file, own.offset,
                      "a layer below this one is called " + ruleset::quoted(own.text) +
                          " too; give this one another id");
        return false;
      }
    }
    return true;
  }

  const Shelf& own_;
  const Shelf& shipped_;
  Problems& problems_;
  std::vector<Link> links_;        // from above to the base
  std::vector<std::string> seen_;  // one each
};

}  // namespace

std::vector<Link> read_chain(const std::string& path, const Shelf& own, const Shelf& shipped,
                             Problems& problems) {
  return Chain(own, shipped, problems).read(path);
}

}  // namespace raceward::ruleset
