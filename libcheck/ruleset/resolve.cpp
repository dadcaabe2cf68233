// Layers -> Law: each layer over what the layers below it made; sources, units, tables and names looked up.
#include <algorithm>
#include <map>
#include <memory>

#include "ruleset/amend_table.hpp"
#include "ruleset/chain.hpp"
#include "ruleset/citer.hpp"
#include "ruleset/read_table.hpp"
#include "ruleset/ruleset.hpp"
#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

using Force = RuleSetting::Force;

std::optional<Force> force_of(std::string_view text) {
  if (text == "required") return Force::required;
  if (text == "advised") return Force::advised;
  if (text == "off") return Force::off;
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

/// What the layers below made so far, by name.
struct Drawn {
  std::map<std::string, Parameter, std::less<>> parameters;
  std::map<std::string, Table, std::less<>> tables;
  std::map<std::string, RuleSetting, std::less<>> rules;
};

/// One layer, set over the others.
class Resolver {
 public:
  Resolver(const Link& link, LayerId id, Drawn& drawn, Citer& citer, Problems& problems)
      : link_(link),
        file_(link.file),
        layer_(link.layer),
        id_(id),
        drawn_(drawn),
        citer_(citer),
        problems_(problems) {}

  void resolve() {
    word(layer_.id, "id");
    if (layer_.effective_from.written && !is_date(layer_.effective_from.text)) {
      problem(layer_.effective_from.offset,
              quoted(layer_.effective_from.text) + " is no date; write year-month-day, such as 2024-01-01");
    }
    if (!amends()) {
      for (const DocumentFields& d : layer_.documents) no_change(d.change);
    }
    citer_.open(file_, layer_);
    for (const ParameterFields& p : layer_.parameters) parameter(p);
    for (const TableFields& t : layer_.tables) table(t);
    for (const UsesFields& u : layer_.uses) uses(u);
  }

 private:
  enum class Change : char { amend, add, replace, faulty };

  [[nodiscard]] bool amends() const { return layer_.base.written; }

  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }

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

  void no_change(const Field& change) {
    if (change.written)
      problem(change.offset, "a layer without base has nothing to change; leave change out");
  }

  /// What is to be done to a name of the base, once it is clear that the base has it, or has it not.
  template <class Known>
  Change change_of(const Field& change, const Field& name, std::string_view what, const Known& known,
                   bool can_replace) {
    if (!amends()) {
      no_change(change);
      return change.written ? Change::faulty : Change::add;
    }
    const bool is_new = change.text == "new", replaces = can_replace && change.text == "replace";
    if (change.written && !is_new && !replaces) {
      problem(change.offset, "change " + quoted(change.text) + " is not known here; write " +
                                 (can_replace ? "new or replace" : "new") + ", or leave it out");
      return Change::faulty;
    }
    const bool has = known.count(name.text) != 0;
    if (has && is_new) {
      problem(change.offset, "the base has " + std::string(what) + " " + quoted(name.text) +
                                 "; leave change out to amend it");
    } else if (!has && !is_new) {
      std::vector<std::string_view> names;
      for (const auto& [other, item] : known) names.push_back(other);
      problem(name.offset, "the base has no " + std::string(what) + " " + quoted(name.text) +
                               suggestion(name.text, names) + "; say change=\"new\" where it is new");
    } else {
      return is_new ? Change::add : replaces ? Change::replace : Change::amend;
    }
    return Change::faulty;
  }

  void parameter(const ParameterFields& p) {
    if (!word(p.name, "parameter") || !first(names_, p.name, "name")) return;
    const Change change = change_of(p.change, p.name, "parameter", drawn_.parameters, false);
    if (amends() && change == Change::add && drawn_.tables.count(p.name.text) != 0) {
      return problem(p.name.offset, "name " + quoted(p.name.text) + " is that of a table of the base");
    }
    Parameter out;
    out.name = p.name.text;
    out.layer = id_;
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
    if (change == Change::amend && !may_replace(p, out, drawn_.parameters.find(out.name)->second)) return;
    if (change != Change::faulty) drawn_.parameters[out.name] = std::move(out);
  }

  bool may_replace(const ParameterFields& p, const Parameter& own, const Parameter& base) {
    const std::size_t at = own.is_word ? p.text.offset : p.value.offset;
    if (own.is_word != base.is_word) {
      problem(at, "parameter " + quoted(own.name) +
                      (base.is_word ? " is a word in the base; write text="
                                    : " is a number in the base; write value=") +
                      quoted(base.text) + " or the like");
      return false;
    }
    if (!own.is_word && dimension_of(own.value.unit) != dimension_of(base.value.unit)) {
      problem(at, "parameter " + quoted(own.name) + " cannot be " + quoted(own.text) +
                      "; in the base it is " + quoted(base.text));
      return false;
    }
    const bool same_value = own.is_word ? own.text == base.text : own.value.count == base.value.count;
    if (same_value && citer_.same(own.cite, base.cite)) {
      problem(p.name.offset, "parameter " + quoted(own.name) + " is as in the base; leave it out");
      return false;
    }
    return true;
  }

  void table(const TableFields& t) {
    if (!word(t.name, "table") || !first(names_, t.name, "name") || t.file.text.empty()) return;
    const Change change = change_of(t.change, t.name, "table", drawn_.tables, true);
    if (change == Change::faulty) return;
    if (amends() && change == Change::add && drawn_.parameters.count(t.name.text) != 0) {
      return problem(t.name.offset, "name " + quoted(t.name.text) + " is that of a parameter of the base");
    }
    if (!stays_inside(t.file.text)) {
      problem(t.file.offset,
              "file " + quoted(t.file.text) + " leads out of the layer's folder; name a file in it");
      return;
    }
    std::optional<std::string> bytes = (*link_.read)(link_.folder + t.file.text);
    if (!bytes) {
      problem(t.file.offset,
              "file " + quoted(t.file.text) + " cannot be read; it should stand beside the layer");
      return;
    }
    // The byte order mark that some editors write is no part of the first line.
    if (bytes->starts_with("\xef\xbb\xbf")) bytes->erase(0, 3);
    const TextFile file(link_.shown + link_.folder + t.file.text, std::move(*bytes));
    std::optional<TableFile> own = read_table(file, citer_, problems_);
    if (!own) return;
    if (own->table.name != t.name.text) {
      problem(t.name.offset,
              "the file calls its table " + quoted(own->table.name) + ", the layer " + quoted(t.name.text));
      return;
    }
    if (change == Change::amend) {
      Table& base = drawn_.tables.find(t.name.text)->second;
      base = amended(base, *own, id_, file, citer_, problems_);
      return;
    }
    for (const TableFile::Row& row : own->rows) {
      if (row.change == RowChange::amends) continue;
      problems_.add(file, row.change_at, "the table amends none; leave the column \"change\" out");
      return;
    }
    own->table.row_layers.assign(own->table.row_count(), id_);
    drawn_.tables[t.name.text] = std::move(own->table);
  }

  void uses(const UsesFields& u) {
    if (!word(u.rule, "rule") || !first(rules_, u.rule, "rule")) return;
    const Change change = change_of(u.change, u.rule, "rule", drawn_.rules, false);
    const RuleSetting* const base =
        change == Change::amend ? &drawn_.rules.find(u.rule.text)->second : nullptr;
    RuleSetting out;
    out.rule = u.rule.text;
    out.place = file_.at(u.rule.offset);
    out.layer = id_;
    if (const auto force = force_of(u.force.text)) {
      out.force = *force;
    } else if (u.force.written) {
      problem(u.force.offset, "force " + quoted(u.force.text) +
                                  " is not known; write required, advised or off" +
                                  suggestion(u.force.text, {"required", "advised", "off"}));
    } else if (base != nullptr) {
      out.force = base->force;
    }
    for (const CitationFields& c : u.cites) {
      if (!c.basis.text.empty()) out.cites.push_back(citer_.cite(file_, c, c.basis.offset));
    }
    if (base != nullptr && !may_replace(u, out, *base)) return;
    if (u.cites.empty() && out.force != Force::off) {
      problem(u.rule.offset,
              "rule " + quoted(u.rule.text) + " is asked without a <cite>; say where the requirement stands");
    }
    if (change != Change::faulty) drawn_.rules[out.rule] = std::move(out);
  }

  bool may_replace(const UsesFields& u, const RuleSetting& own, const RuleSetting& base) {
    const bool same_cites =
        std::equal(own.cites.begin(), own.cites.end(), base.cites.begin(), base.cites.end(),
                   [&](CitationId a, CitationId b) { return citer_.same(a, b); });
    const bool same_force = own.force == base.force;
    if (same_force && (u.cites.empty() || same_cites)) {
      problem(u.rule.offset, "rule " + quoted(own.rule) + " is as in the base; leave it out");
      return false;
    }
    if (!u.cites.empty()) return true;
    problem(u.rule.offset,
            "the force of rule " + quoted(own.rule) + " is changed without a <cite>; say on what authority");
    return false;
  }

  const Link& link_;
  const TextFile& file_;
  const Layer& layer_;
  const LayerId id_;
  Drawn& drawn_;
  Citer& citer_;
  Problems& problems_;
  std::map<std::string_view, std::size_t> names_, rules_;
};

/// Keeps the citations that something stands on: a layer leaves behind those of what it replaced.
class Kept {
 public:
  Kept(Law& law, std::vector<Citation> all)
      : law_(law), all_(std::move(all)), to_(all_.size(), no_citation) {}

  void keep() {
    each([&](CitationId& id) {
      if (id < to_.size()) to_[id] = 0;
    });
    CitationId next = 0;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      if (to_[i] == no_citation) continue;
      to_[i] = next++;
      law_.citations.push_back(std::move(all_[i]));
    }
    each([&](CitationId& id) {
      if (id < to_.size()) id = to_[id];
    });
  }

 private:
  template <class Use>
  void each(Use use) {
    for (Parameter& p : law_.parameters) use(p.cite);
    for (RuleSetting& r : law_.rules) {
      for (CitationId& id : r.cites) use(id);
    }
    for (Table& t : law_.tables) {
      for (Table::Removed& r : t.removed) use(r.cite);
      for (std::uint32_t row = 0; row < t.row_count(); ++row) {
        CitationId id = t.cite(row);
        use(id);
        t.set_cite(row, id);
      }
    }
  }

  Law& law_;
  std::vector<Citation> all_;
  std::vector<CitationId> to_;
};

template <class Item>
std::vector<Item> sorted(std::map<std::string, Item, std::less<>>& items) {
  std::vector<Item> out;
  out.reserve(items.size());
  for (auto& [name, item] : items) out.push_back(std::move(item));
  return out;
}

}  // namespace

LoadedLaw load_layer(const std::string& path, const Shelf& own, const Shelf& shipped) {
  Problems problems;
  const std::vector<Link> chain = read_chain(path, own, shipped, problems);
  Drawn drawn;
  Citer citer(problems);
  Law law;
  for (const Link& link : chain) {
    const auto id = static_cast<LayerId>(law.layers.size());
    law.layers.push_back(link.layer.id.text);
    const std::size_t before = problems.size();
    Resolver(link, id, drawn, citer, problems).resolve();
    // What is amiss below would be said again of all that stands upon it.
    if (problems.size() != before) break;
  }
  if (!problems.empty()) return {nullptr, std::move(problems).sorted()};
  const Layer& last = chain.back().layer;
  law.id = last.id.text;
  law.title = last.title.text;
  law.effective_from = last.effective_from.text;
  law.parameters = sorted(drawn.parameters);
  law.tables = sorted(drawn.tables);
  law.rules = sorted(drawn.rules);
  Kept(law, citer.citations()).keep();
  return {std::make_shared<const Law>(std::move(law)), {}};
}

}  // namespace raceward::ruleset
