// Layer -> Law: sources, units, tables and names looked up. One layer as yet; amendments will be set over it
// here.
#include <algorithm>
#include <map>
#include <memory>

#include "ruleset/citer.hpp"
#include "ruleset/layer.hpp"
#include "ruleset/read_table.hpp"
#include "ruleset/ruleset.hpp"
#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

std::optional<RuleSetting::Force> force_of(const Field& field) {
  if (!field.written || field.text == "required") return RuleSetting::Force::required;
  if (field.text == "advised") return RuleSetting::Force::advised;
  if (field.text == "off") return RuleSetting::Force::off;
  return std::nullopt;
}

/// A path that cannot leave the layer's folder.
bool stays_inside(std::string_view path) {
  if (path.empty() || path.front() == '/' || path.find('\\') != std::string_view::npos ||
      path.find(':') != std::string_view::npos)
    return false;
  for (std::size_t at = 0; at <= path.size();) {
    const std::size_t end = std::min(path.find('/', at), path.size());
    const std::string_view part = path.substr(at, end - at);
    if (part.empty() || part == "..") return false;
    at = end + 1;
  }
  return true;
}

class Resolver {
 public:
  Resolver(const TextFile& file, const Layer& layer, const std::string& folder, const std::string& shown,
           const ReadFile& read, Problems& problems)
      : file_(file),
        layer_(layer),
        folder_(folder),
        shown_(shown),
        read_(read),
        problems_(problems),
        citer_(file, layer, law_.citations, problems) {}

  Law resolve() {
    head();
    for (const ParameterFields& p : layer_.parameters) parameter(p);
    for (const TableFields& t : layer_.tables) table(t);
    for (const UsesFields& u : layer_.uses) uses(u);
    std::sort(law_.parameters.begin(), law_.parameters.end(),
              [](const auto& a, const auto& b) { return a.name < b.name; });
    std::sort(law_.tables.begin(), law_.tables.end(),
              [](const auto& a, const auto& b) { return a.name < b.name; });
    std::sort(law_.rules.begin(), law_.rules.end(),
              [](const auto& a, const auto& b) { return a.rule < b.rule; });
    return std::move(law_);
  }

 private:
  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }

  void head() {
    law_.id = layer_.id.text;
    law_.title = layer_.title.text;
    law_.effective_from = layer_.effective_from.text;
    law_.layers = {law_.id};
    word(layer_.id, "id");
    if (layer_.base.written)
      problem(layer_.base.offset,
              "this version reads no layers upon another one; leave base out and copy what it amends");
    if (layer_.effective_from.written && !is_date(layer_.effective_from.text)) {
      problem(layer_.effective_from.offset,
              quoted(layer_.effective_from.text) + " is no date; write year-month-day, such as 2024-01-01");
    }
  }

  bool word(const Field& name, std::string_view what) {
    if (name.text.empty()) return false;  // said when it was read
    if (is_word(name.text)) return true;
    problem(name.offset, std::string(what) + " " + quoted(name.text) +
                             " is no name; write small letters, digits and hyphens");
    return false;
  }

  bool first(std::map<std::string_view, std::size_t>& seen, const Field& name, std::string_view what) {
    const auto [at, is_new] = seen.emplace(name.text, name.offset);
    if (is_new) return true;
    problem(name.offset, std::string(what) + " " + quoted(name.text) + " stands in line " +
                             std::to_string(file_.at(at->second).line) + " already");
    return false;
  }

  void parameter(const ParameterFields& p) {
    if (!word(p.name, "parameter") || !first(names_, p.name, "name")) return;
    Parameter out;
    out.name = p.name.text;
    out.place = file_.at(p.name.offset);
    out.is_word = !p.value.written;
    out.text = p.value.written ? p.value.text : p.text.text;
    if (p.value.written && !p.value.text.empty()) {
      const Parsed<Amount> amount = parse_value(p.value.text);
      if (amount && below_zero(*amount)) {
        problem(p.value.offset, "value " + quoted(p.value.text) + " is below zero");
      } else if (amount) {
        out.value = *amount;
      } else {
        problem(p.value.offset, "value " + quoted(p.value.text) + ": " + amount.error().what);
      }
    }
    out.cite = p.cite.basis.text.empty() ? no_citation : citer_.cite(file_, p.cite, p.name.offset);
    law_.parameters.push_back(std::move(out));
  }

  void table(const TableFields& t) {
    if (!word(t.name, "table") || !first(names_, t.name, "name") || t.file.text.empty()) return;
    if (!stays_inside(t.file.text)) {
      problem(t.file.offset,
              "file " + quoted(t.file.text) + " leads out of the layer's folder; name a file in it");
      return;
    }
    std::optional<std::string> bytes = read_(folder_ + t.file.text);
    if (!bytes) {
      problem(t.file.offset,
              "file " + quoted(t.file.text) + " cannot be read; it should stand beside the layer");
      return;
    }
    // The byte order mark that some editors write is no part of the first line.
    if (bytes->starts_with("\xef\xbb\xbf")) bytes->erase(0, 3);
    const TextFile file(shown_ + folder_ + t.file.text, std::move(*bytes));
    std::optional<Table> table = read_table(file, citer_, problems_);
    if (!table) return;
    if (table->name != t.name.text) {
      problem(t.name.offset,
              "the file calls its table " + quoted(table->name) + ", the layer " + quoted(t.name.text));
    }
    law_.tables.push_back(std::move(*table));
  }

  void uses(const UsesFields& u) {
    if (!word(u.rule, "rule") || !first(rules_, u.rule, "rule")) return;
    RuleSetting out;
    out.rule = u.rule.text;
    out.place = file_.at(u.rule.offset);
    if (const auto force = force_of(u.force)) {
      out.force = *force;
    } else {
      problem(u.force.offset, "force " + quoted(u.force.text) +
                                  " is not known; write required, advised or off" +
                                  suggestion(u.force.text, {"required", "advised", "off"}));
    }
    for (const CitationFields& c : u.cites) {
      if (!c.basis.text.empty()) out.cites.push_back(citer_.cite(file_, c, c.basis.offset));
    }
    if (u.cites.empty() && out.force != RuleSetting::Force::off) {
      problem(u.rule.offset,
              "rule " + quoted(u.rule.text) + " is asked without a <cite>; say where the requirement stands");
    }
    law_.rules.push_back(std::move(out));
  }

  const TextFile& file_;
  const Layer& layer_;
  const std::string& folder_;
  const std::string& shown_;
  const ReadFile& read_;
  Problems& problems_;
  Law law_;
  Citer citer_;
  std::map<std::string_view, std::size_t> names_, rules_;
};

}  // namespace

LoadedLaw load_layer(const std::string& path, const ReadFile& read, const std::string& shown) {
  Problems problems;
  std::optional<std::string> bytes = read(path);
  if (!bytes) {
    problems.add({shown + path, 0, 0}, "the file cannot be read; give the path of a layer file");
    return {nullptr, std::move(problems).sorted()};
  }
  const TextFile file(shown + path, std::move(*bytes));
  const std::optional<Layer> layer = read_layer(file, problems);
  if (!layer) return {nullptr, std::move(problems).sorted()};
  const std::size_t slash = path.rfind('/');
  const std::string folder = slash == std::string::npos ? std::string{} : path.substr(0, slash + 1);
  Law law = Resolver(file, *layer, folder, shown, read, problems).resolve();
  if (!problems.empty()) return {nullptr, std::move(problems).sorted()};
  return {std::make_shared<const Law>(std::move(law)), {}};
}

}  // namespace raceward::ruleset
