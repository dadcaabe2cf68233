// A rule with the names that it reads looked up once, for a whole check.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "figure/figure.hpp"
#include "raceward/rule.hpp"
#include "ruleset/data_program.hpp"

namespace raceward::checking {

/// A figure that a rule reads.
struct ReadFigure {
  figure::Id id{};
  Unit unit{};
  bool always = false;  ///< it speaks of every subject of the rule
};

struct BoundRule {
  const Rule* rule = nullptr;            ///< null: the law names a rule that nobody has
  const RuleSetting* setting = nullptr;  ///< null: the law does not name it
  std::vector<ReadFigure> figures;
  std::vector<const Parameter*> parameters;
  std::string fault;                         ///< why the rule cannot be asked at all; empty where it can
  const Requirement* requirement = nullptr;  ///< what the law requires itself, in the words of conditions
  std::shared_ptr<const Rule> own{};         ///< the rule that is made of it
  std::shared_ptr<const ruleset::DataProgram> program{};  ///< of a rule that the law brings as data
  bool sometimes = false;                                 ///< a condition of the law puts it in force

  [[nodiscard]] std::string_view id() const { return rule != nullptr ? rule->id : setting->rule; }
  [[nodiscard]] bool in_force() const {
    return setting != nullptr && (sometimes || setting->force != RuleSetting::Force::off);
  }
};

/// Whether a figure says something of subjects of this kind: the same kind, or any place for a figure of
/// places.
bool speaks_of(const figure::Info& figure, SubjectKind subject);

/// All rules that the law names or brings, or that are at hand, sorted by id, each bound or with its fault. A
/// rule that has the id of one before it in `rules` is left out and named in `doubles`.
std::vector<BoundRule> bind_rules(const Law& law, const std::vector<const Rule*>& rules,
                                  std::vector<const Rule*>& doubles);

}  // namespace raceward::checking
