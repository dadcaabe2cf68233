// load_ruleset and its kin: shipped files from memory, others from disk.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <system_error>

#include "ruleset/embedded.hpp"
#include "ruleset/layer.hpp"
#include "ruleset/ruleset.hpp"

namespace raceward {
namespace {

using namespace ruleset;

constexpr std::string_view shipped_folder = "rulesets/";

std::optional<std::string> read_shipped(const std::string& path) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.path == path) return std::string(file.bytes);
  }
  return std::nullopt;
}

std::optional<std::string> read_disk(const std::string& path) {
  std::error_code error;
  // A pipe would block and a folder opens without an error: only files.
  if (!std::filesystem::is_regular_file(path, error) || error) return std::nullopt;
  std::ifstream in(path, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  return in.bad() || !in.is_open() ? std::nullopt : std::optional(std::move(bytes));
}

struct Shipped {
  std::string path;
  RulesetInfo info;
  std::string base;
};

/// Layers among the shipped files, sorted by id.
std::vector<Shipped> shipped_layers() {
  std::vector<Shipped> out;
  for (const EmbeddedFile& file : embedded_files()) {
    if (!file.path.ends_with(".xml")) continue;
    const std::string path(file.path);
    Problems ignored;
    const TextFile text(path, std::string(file.bytes));
    const std::optional<Layer> layer = read_layer(text, ignored);
    if (!layer) continue;
    Shipped shipped{path, {layer->id.text, layer->title.text, {}, {}}, layer->base.text};
    if (!layer->documents.empty()) {
      const DocumentFields& d = layer->documents.front();
      shipped.info.document = d.cited_as.written ? d.cited_as.text : d.title.text;
      shipped.info.edition = d.edition.text;
    }
    out.push_back(std::move(shipped));
  }
  std::sort(out.begin(), out.end(), [](const Shipped& a, const Shipped& b) { return a.info.id < b.info.id; });
  return out;
}

std::string digits_of(std::string_view id) {
  std::string out;
  for (const char c : id)
    if (c >= '0' && c <= '9') out += c;
  std::sort(out.begin(), out.end());
  return out;
}

LoadedLaw unknown(std::string_view id, const std::vector<Shipped>& layers, std::string_view otherwise) {
  std::vector<std::string_view> ids;
  std::string list;
  for (const Shipped& layer : layers) {
    // Another year is another law and no slip of the pen.
    if (digits_of(id) == digits_of(layer.info.id)) ids.push_back(layer.info.id);
    list += (list.empty() ? "" : ", ") + layer.info.id;
  }
  return {nullptr,
          {{{std::string(id), 0, 0},
            "no ruleset of this name is shipped" + std::string(otherwise) +
                "; shipped: " + (list.empty() ? "none" : list) + suggestion(id, ids)}}};
}

Shelf shelf_of(const std::vector<Shipped>& layers) {
  Shelf shelf{read_shipped, std::string(shipped_folder), {}};
  for (const Shipped& layer : layers) shelf.layers.emplace(layer.info.id, layer.path);
  return shelf;
}

const Shipped* layer_of(const std::vector<Shipped>& layers, std::string_view id) {
  const auto found =
      std::find_if(layers.begin(), layers.end(), [&](const Shipped& s) { return s.info.id == id; });
  return found == layers.end() ? nullptr : &*found;
}

const Shipped& root_of(const std::vector<Shipped>& layers, const Shipped& layer) {
  const Shipped* below = layer_of(layers, layer.base);
  return below == nullptr ? layer : root_of(layers, *below);
}

bool is_base(const std::vector<Shipped>& layers, const Shipped& layer) {
  return std::any_of(layers.begin(), layers.end(), [&](const Shipped& s) { return s.base == layer.info.id; });
}

using Names = std::set<std::string, std::less<>>;

void add_names_of(const std::vector<Shipped>& layers, const Shelf& shelf, Names& names) {
  for (const Shipped& layer : layers) {
    if (is_base(layers, layer)) continue;
    const LoadedLaw loaded = load_layer(layer.path, shelf, shelf);
    if (!loaded.law) continue;
    for (const Parameter& p : loaded.law->parameters) names.insert(p.name);
    for (const Table& t : loaded.law->tables) names.insert(t.name);
  }
}

LoadedLaw load(std::string_view id_or_path, bool disk) {
  const std::vector<Shipped> layers = shipped_layers();
  Shelf shipped = shelf_of(layers);
  Names known;
  shipped.names = [&]() -> const Names& {
    if (known.empty()) add_names_of(layers, shipped, known);
    return known;
  };
  if (const auto found = shipped.layers.find(id_or_path); found != shipped.layers.end())
    return load_layer(found->second, shipped, shipped);
  if (!disk) return unknown(id_or_path, layers, "");
  const std::string path(id_or_path);
  std::error_code error;
  if (path.find('\0') != std::string::npos || !std::filesystem::exists(path, error)) {
    return unknown(id_or_path, layers, ", and there is no such file");
  }
  if (std::filesystem::is_directory(path, error)) {
    const std::string inside = (std::filesystem::path(path) / "layer.xml").generic_string();
    const bool is_there = std::filesystem::exists(inside, error);
    return {nullptr,
            {{{path, 0, 0},
              "this is a folder; name the layer in it" + (is_there ? ": " + inside : std::string())}}};
  }
  LoadedLaw own = load_layer(path, {read_disk}, shipped);
  if (!own.law) return own;
  const Shipped* root = layer_of(layers, own.law->layers.front());
  for (const Shipped& layer : layers) {
    if (is_base(layers, layer)) continue;  // what stands upon it has all its names: layers take none away
    // What stands upon the code of one country is not measured by that of another.
    if (root != nullptr && &root_of(layers, layer) != root) continue;
    const LoadedLaw known = load_layer(layer.path, shipped, shipped);
    if (!known.law) continue;
    own.problems = known_names(*own.law, *known.law);
    if (own.problems.empty()) continue;
    own.law = nullptr;
    break;
  }
  return own;
}

}  // namespace

LoadedLaw load_ruleset(std::string_view id_or_path) { return load(id_or_path, true); }
LoadedLaw load_shipped_ruleset(std::string_view id) { return load(id, false); }

std::vector<RulesetInfo> shipped_rulesets() {
  std::vector<RulesetInfo> out;
  for (Shipped& layer : shipped_layers()) out.push_back(std::move(layer.info));
  return out;
}

}  // namespace raceward
