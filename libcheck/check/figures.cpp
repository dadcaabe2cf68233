// All figures of an installation with their working.
#include <algorithm>
#include <optional>
#include <utility>

#include "check/bound_rule.hpp"
#include "check/figures_of_use.hpp"
#include "check/finding_of.hpp"
#include "check/natural.hpp"
#include "check/needs.hpp"
#include "check/scoped_figures.hpp"
#include "check/subjects.hpp"
#include "check/wording.hpp"
#include "facts/writer.hpp"
#include "raceward/engine.hpp"

namespace raceward {

namespace {

using namespace checking;

struct Named {
  Subject subject;
  std::string id;
};

/// Every subject that a figure speaks of, by kind and then by id, so that the order in the file does not
/// matter.
std::vector<Named> subjects_with_figures(const Installation& in) {
  std::vector<Subject> subjects;
  bool done[subject_kind_count] = {};
  for (const figure::Info& info : figure::all()) {
    if (std::exchange(done[static_cast<std::size_t>(info.subject)], true)) continue;
    const std::vector<Subject> more = checking::subjects_of(in, info.subject);
    subjects.insert(subjects.end(), more.begin(), more.end());
  }
  std::sort(subjects.begin(), subjects.end());
  subjects.erase(std::unique(subjects.begin(), subjects.end()), subjects.end());

  std::vector<Named> out;
  out.reserve(subjects.size());
  for (const Subject s : subjects) out.push_back({s, installation::id_of(in.model, in.sections, s)});
  std::sort(out.begin(), out.end(), [](const Named& a, const Named& b) {
    return a.subject.kind != b.subject.kind ? a.subject.kind < b.subject.kind : natural_less(a.id, b.id);
  });
  return out;
}

FigureLine line_of(figure::Evaluation& e, const figure::Info& info, const Named& named,
                   const std::string& where) {
  figure::Working working;
  const figure::Value value = e.explain(info.id, named.subject, working);
  FigureLine line;
  line.subject = named.id;
  line.where = where;
  line.figure = info.name;
  line.known = value.missing == 0;
  line.value = {line.known ? value.count : 0, figure::told_in(e.law, info.unit)};
  if (line.known) line.shown = shown(line.value);
  line.working = std::move(working.lines);
  working.cites.push_back(value.cite);
  line.sources = citations(e.law, working.cites);
  if (!line.known) line.needs = needs_of(e, value.missing);
  return line;
}

/// The same under the law that holds of the subject, and whether that says otherwise than the law without its
/// conditions.
FigureLine line_under(ScopedFigures& scoped, figure::Evaluation& plain, const figure::Info& info,
                      const Named& named, const std::string& where) {
  const facts::FiguresUnder::Told told = scoped.of(info.id, named.subject, named.subject);
  FigureLine line = line_of(*told.in, info, named, where);
  if (told.open) {
    line.known = false;
    line.value.count = 0;
    line.shown.clear();
    line.working = {"it is not known which conditions of the ruleset hold here, and they differ in it"};
    line.sources.clear();
    line.needs = needs_of(*told.in, told.value.missing);
    return line;
  }
  if (told.in == &plain) return line;
  const FigureLine without = line_of(plain, info, named, where);
  if (line.shown == without.shown && line.working == without.working && line.sources == without.sources)
    return line;
  for (const std::string& words : scoped.conditions_of(named.subject))
    line.working.push_back("under the ruleset's condition: " + words);
  return line;
}

}  // namespace

namespace {

FigureList listed(const Installation& installation, const Law& law, const std::vector<BoundRule>* rules) {
  figure::Evaluation evaluation(installation, law);
  ScopedFigures scoped(installation, law, evaluation);
  std::optional<FiguresOfUse> useful;
  if (rules != nullptr) useful.emplace(evaluation, *rules);
  FigureList out;
  for (const Named& named : subjects_with_figures(installation)) {
    const std::string where =
        installation::words_of(installation.model, installation.sections, named.subject);
    const std::vector<bool>* const of_use = useful ? &useful->of(named.subject) : nullptr;
    for (const figure::Info& info : figure::all()) {
      if (!speaks_of(info, named.subject.kind) ||
          !facts::measures_something(evaluation, info.id, named.subject))
        continue;
      if (of_use != nullptr && !(*of_use)[static_cast<std::size_t>(info.id)])
        ++out.left_out;
      else
        out.lines.push_back(line_under(scoped, evaluation, info, named, where));
    }
  }
  return out;
}

}  // namespace

std::vector<FigureLine> figures(const Installation& installation, const Law& law) {
  return listed(installation, law, nullptr).lines;
}

FigureList figures_of_use(const Installation& installation, const Law& law) {
  std::vector<const Rule*> doubles;
  const std::vector<BoundRule> rules = bind_rules(law, shipped_rules(), doubles);
  return listed(installation, law, &rules);
}

std::vector<FigureInfo> all_figures() {
  std::vector<FigureInfo> out;
  for (const figure::Info& info : figure::all()) {
    out.push_back({std::string(info.name), info.subject, info.unit, std::string(info.about)});
  }
  return out;
}

}  // namespace raceward
