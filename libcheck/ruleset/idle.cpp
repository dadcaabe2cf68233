#include "ruleset/idle.hpp"

#include <algorithm>

#include "facts/relations.hpp"
#include "figure/figure.hpp"
#include "raceward/rule.hpp"
#include "ruleset/exclusion.hpp"
#include "ruleset/scopes.hpp"

namespace raceward::ruleset {
namespace {

using Force = RuleSetting::Force;

bool same_value(const Parameter& a, const Parameter& b) {
  return a.is_word == b.is_word && (a.is_word ? a.text == b.text
                                              : a.value.count == b.value.count &&
                                                    dimension_of(a.value.unit) == dimension_of(b.value.unit));
}

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

/// Whether an expression reads $name.
bool reads(const std::string& expression, const std::string& name) {
  const std::string variable = "$" + name;
  for (std::size_t at = expression.find(variable); at != std::string::npos;
       at = expression.find(variable, at + 1)) {
    const std::size_t end = at + variable.size();
    const char next = end < expression.size() ? expression[end] : ' ';
    const bool goes_on = (next >= 'a' && next <= 'z') || (next >= '0' && next <= '9') || next == '-';
    if (!goes_on) return true;
  }
  return false;
}

bool reads(const DataRule& rule, const std::string& name) {
  return std::any_of(rule.whens.begin(), rule.whens.end(),
                     [&](const DataRule::When& w) { return reads(w.test, name); }) ||
         std::any_of(rule.asserts.begin(), rule.asserts.end(), [&](const DataRule::Assert& a) {
           return reads(a.test, name) || reads(a.measured, name) || reads(a.limit, name);
         });
}

class Idle {
 public:
  Idle(const Link& link, LayerId id, const Drawn& before, const Drawn& after, std::size_t added,
       const Resolving& with)
      : layer_(link.layer),
        file_(link.file),
        id_(id),
        before_(before),
        after_(after),
        added_(added),
        with_(with) {}

  void tell() {
    if (sets_nothing())
      return remark(layer_.id, "the layer sets nothing: what it stands upon holds as it is");
    for (const ParameterFields& p : layer_.parameters) parameter(p);
    for (const TableFields& t : layer_.tables) table(t);
    for (const UsesFields& u : layer_.uses) uses(u);
    for (const RequiresFields& r : layer_.requirements) {
      off(r.id, r.force);
      always(r);
    }
    for (const RuleFields& r : layer_.rules) off(r.id, r.force);
    for (std::size_t i = added_; i < after_.scopes.size(); ++i) where(after_.scopes[i]);
    citations();
  }

 private:
  void remark(const Field& at, std::string message, std::string parameter = {}) {
    remark(file_.at(at.offset), std::move(message), std::move(parameter));
  }
  void remark(const Place& at, std::string message, std::string parameter = {}) {
    with_.remarks.push_back({at, std::move(message), std::move(parameter)});
  }

  [[nodiscard]] bool sets_nothing() const {
    return layer_.parameters.empty() && layer_.tables.empty() && layer_.uses.empty() &&
           layer_.requirements.empty() && layer_.rules.empty() && layer_.wheres.empty() &&
           layer_.facts.empty() && layer_.renumbered.empty() && !layer_.units.written &&
           std::none_of(layer_.documents.begin(), layer_.documents.end(),
                        [](const DocumentFields& d) { return d.change.written; });
  }

  /// Whether what the layer sets takes the place of what a lower one says under a condition.
  template <class Has>
  [[nodiscard]] bool overrules(Has has) const {
    return std::any_of(before_.scopes.begin(), before_.scopes.end(),
                       [&](const Scope& s) { return s.adopts != nullptr || has(s); });
  }

  void parameter(const ParameterFields& p) {
    const auto own = after_.parameters.find(p.name.text);
    if (own == after_.parameters.end()) return;
    const auto base = before_.parameters.find(p.name.text);
    of_rules_that_are_off(p);
    if (base == before_.parameters.end()) return unread(p, own->second);
    const bool overruling = overrules([&](const Scope& s) {
      return std::any_of(s.parameters.begin(), s.parameters.end(),
                         [&](const Parameter& q) { return q.name == p.name.text; });
    });
    if (same_value(own->second, base->second) && !overruling)
      remark(p.name, "parameter " + quoted(p.name.text) + " is " + base->second.text +
                         " in the base as well; it is only cited anew");
  }

  void unread(const ParameterFields& p, const Parameter& own) {
    const bool read = std::any_of(after_.data_rules.begin(), after_.data_rules.end(),
                                  [&](const auto& rule) { return reads(rule.second, own.name); }) ||
                      !with_.shipped.names || with_.shipped.names().count(own.name) != 0;
    if (!read)
      remark(p.name,
             "nothing of this ruleset reads parameter " + quoted(own.name) + "; a rule of a module may",
             own.name);
  }

  [[nodiscard]] bool asked(const std::string& rule) const {
    const auto found = after_.rules.find(rule);
    if (found != after_.rules.end() && found->second.force != Force::off) return true;
    return std::any_of(after_.scopes.begin(), after_.scopes.end(), [&](const Scope& s) {
      return s.adopts != nullptr || std::any_of(s.rules.begin(), s.rules.end(), [&](const RuleSetting& r) {
               return r.rule == rule && r.force != Force::off;
             });
    });
  }

  /// What shipped rules compare with, their figures read.
  void of_rules_that_are_off(const ParameterFields& p) {
    std::vector<std::string> off;
    for (const auto& [name, rule] : after_.data_rules) {
      if (!reads(rule, p.name.text)) continue;
      if (asked(name)) return;
      off.push_back(name);
    }
    const bool by_figures = !with_.shipped.names || with_.shipped.names().count(p.name.text) != 0;
    if (!off.empty() && !by_figures)
      remark(p.name, "what compares with parameter " + quoted(p.name.text) + " is off: rule " + listed(off));
  }

  void table(const TableFields& t) {
    const auto own = after_.tables.find(t.name.text);
    const auto base = before_.tables.find(t.name.text);
    if (own == after_.tables.end() || base == before_.tables.end() || t.change.written) return;
    if (overrules([&](const Scope& s) {
          return std::any_of(s.tables.begin(), s.tables.end(),
                             [&](const Table& other) { return other.name == t.name.text; });
        }))
      return;
    std::vector<std::string> same;
    for (std::uint32_t row = 0; row < own->second.row_count(); ++row) {
      if (own->second.layer(row) != id_) continue;
      const std::vector<std::string> keys = own->second.keys(row);
      const std::vector<std::string_view> views(keys.begin(), keys.end());
      const std::uint32_t there = base->second.find(views);
      if (there != Table::none && own->second.same_cells(row, base->second, there))
        same.push_back(listed(keys));
    }
    if (!same.empty())
      remark(t.name, "of table " + quoted(t.name.text) + (same.size() == 1 ? " the row " : " the rows ") +
                         some(same) + (same.size() == 1 ? " says" : " say") +
                         " what the base says; only cited anew");
  }

  /// The first of many.
  static std::string some(const std::vector<std::string>& rows) {
    constexpr std::size_t most = 3;
    std::string out;
    for (std::size_t i = 0; i < std::min(rows.size(), most); ++i) out += (i == 0 ? "" : "; ") + rows[i];
    return rows.size() > most ? out + " and " + std::to_string(rows.size() - most) + " more" : out;
  }

  void uses(const UsesFields& u) {
    const auto base = before_.rules.find(u.rule.text), own = after_.rules.find(u.rule.text);
    if (!u.force.written || base == before_.rules.end() || own == after_.rules.end()) return;
    const bool overruling = overrules([&](const Scope& s) {
      return std::any_of(s.rules.begin(), s.rules.end(),
                         [&](const RuleSetting& r) { return r.rule == u.rule.text; });
    });
    if (base->second.force == own->second.force && !overruling)
      remark(u.force, "rule " + quoted(u.rule.text) + " is " + u.force.text +
                          " in the base as well; it is only cited anew");
  }

  /// One of the layer's own that nothing ever asks.
  void off(const Field& id, const Field& force) {
    if (force.text == "off" && !asked(id.text))
      remark(force, "rule " + quoted(id.text) + " is off, and no condition asks it");
  }

  void always(const RequiresFields& r) {
    const auto own = after_.requirements.find(r.id.text);
    if (own == after_.requirements.end()) return;
    if (always_holds(own->second.given, own->second.must, own->second.subject, after_.facts))
      remark(r.id, "what rule " + quoted(r.id.text) +
                       " says must hold wherever it is asked; it can be undetermined and never violated");
  }

  void where(const Scope& scope) {
    if (scope.layer != id_) return;
    for (const Parameter& p : scope.parameters) {
      const auto base = after_.parameters.find(p.name);
      if (base != after_.parameters.end() && same_value(p, base->second) && !below(p.name))
        remark(p.place, "parameter " + quoted(p.name) + " is " + base->second.text +
                            " without this condition as well; it is only cited anew");
    }
    for (const RuleSetting& r : scope.rules) {
      const auto base = after_.rules.find(r.rule);
      const bool same = base != after_.rules.end() && base->second.force == r.force;
      if (same && base->second.place.line != r.place.line && !below(r.rule))
        remark(r.place, "rule " + quoted(r.rule) + " is as without this condition; it is only cited anew");
      unrelated(scope, r);
    }
    for (const Table& t : scope.tables) {
      const auto base = after_.tables.find(t.name);
      if (base == after_.tables.end() || below(t.name)) continue;
      for (std::uint32_t row = 0; row < t.row_count(); ++row) {
        const std::vector<std::string> keys = t.keys(row);
        const std::vector<std::string_view> views(keys.begin(), keys.end());
        const std::uint32_t there = base->second.find(views);
        if (there != Table::none && same_columns(t, base->second) && t.same_cells(row, base->second, there))
          remark(scope.place, "the row " + listed(keys) + " of table " + quoted(t.name) +
                                  " says what holds without this condition as well");
      }
    }
  }

  /// Whether a condition that stands before those of this layer, or an adopted ruleset, sets the name.
  [[nodiscard]] bool below(const std::string& name) const {
    for (const Scope& s : after_.scopes) {
      if (s.adopts != nullptr) return true;
      if (s.layer == id_) continue;
      for (const Parameter& p : s.parameters)
        if (p.name == name) return true;
      for (const RuleSetting& r : s.rules)
        if (r.rule == name) return true;
      for (const Table& t : s.tables)
        if (t.name == name) return true;
    }
    return false;
  }

  std::optional<SubjectKind> subject_of(const std::string& rule) const {
    for (const Rule* shipped : shipped_rules()) {
      if (shipped->id == rule) return shipped->subject;
    }
    if (const auto r = after_.requirements.find(rule); r != after_.requirements.end())
      return r->second.subject;
    if (const auto r = after_.data_rules.find(rule); r != after_.data_rules.end()) return r->second.subject;
    return std::nullopt;
  }

  void unrelated(const Scope& scope, const RuleSetting& r) {
    const std::optional<SubjectKind> subject = subject_of(r.rule);
    if (!subject) return;
    std::optional<SubjectKind> far = leads_nowhere(scope.when, *subject);
    if (far)
      remark(r.place, "rule " + quoted(r.rule) + " is asked of each " +
                          std::string(facts::word_of(*subject)) + ", which leads to no " +
                          std::string(facts::word_of(*far)) +
                          ": what the condition asks of that never holds there");
  }

  std::optional<SubjectKind> leads_nowhere(const Condition& c, SubjectKind subject) const {
    using enum Condition::Kind;
    for (const Condition& part : c.parts) {
      if (c.kind == count) break;  // asked of what is counted
      if (const auto far = leads_nowhere(part, subject)) return far;
    }
    std::optional<SubjectKind> of;
    if (c.kind == attribute || c.kind == count) {
      const SubjectKind named = c.element == "wiring" ? SubjectKind::circuit : facts::kind_of(c.element);
      if (static_cast<std::uint8_t>(named) < subject_kind_count) of = named;
    } else if (c.kind == fact) {
      const auto found = after_.facts.find(c.name);
      if (found != after_.facts.end()) of = found->second.of;
    } else if (c.kind == Condition::Kind::figure) {
      const figure::Info* info = figure::find(c.name);
      if (info != nullptr) of = info->subject;
    }
    return of && !facts::related(subject, *of) ? of : std::nullopt;
  }

  void citations() {
    for (const DocumentFields& d : layer_.documents) {
      if (!d.change.written && !with_.citer.has_used(d.id.text))
        remark(d.id, "nothing cites document " + quoted(d.id.text));
    }
    for (const SourceFields& s : layer_.sources) {
      if (!with_.citer.has_used(s.id.text)) remark(s.id, "nothing was read in source " + quoted(s.id.text));
    }
  }

  const Layer& layer_;
  const TextFile& file_;
  const LayerId id_;
  const Drawn &before_, &after_;
  const std::size_t added_;
  const Resolving& with_;
};

}  // namespace

void tell_idle(const Link& link, LayerId id, const Drawn& before, const Drawn& after, std::size_t added,
               const Resolving& with) {
  Idle(link, id, before, after, added, with).tell();
}

}  // namespace raceward::ruleset
