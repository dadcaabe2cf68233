#include "check/unread.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace raceward::checking {

namespace {

constexpr std::string_view figure_mark = "figure:";

template <class Each>
void each_word(std::string_view text, Each each) {
  while (!text.empty()) {
    const std::size_t first = text.find_first_not_of(' ');
    if (first == std::string_view::npos) return;
    text.remove_prefix(first);
    const std::size_t size = std::min(text.find(' '), text.size());
    each(text.substr(0, size));
    text.remove_prefix(size);
  }
}

void collect(figure::Id id, std::set<figure::Id>& out) {
  if (!out.insert(id).second) return;
  each_word(figure::info(id).reads, [&](std::string_view word) {
    if (!word.starts_with(figure_mark)) return;
    const figure::Info* next = figure::find(word.substr(figure_mark.size()));
    if (next != nullptr) collect(next->id, out);
  });
}

/// What a condition reads of documents.
void collect(const Condition& c, std::set<std::string, std::less<>>& read,
             std::set<std::string, std::less<>>& elements) {
  for (const Condition& part : c.parts) collect(part, read, elements);
  const auto add = [&](const std::string& element, std::string_view attribute) {
    read.insert(fmt::format("{}@{}", element, attribute));
    elements.insert(element);
  };
  if (c.kind == Condition::Kind::attribute) add(c.element, c.name);
  if (c.kind == Condition::Kind::attested) add("attest", "fact"), add("attest", "of");
}

/// Reports name things by these, and the graph is made of them, whatever the rules.
bool always_read(std::string_view element, std::string_view attribute) {
  if (attribute == "id" || attribute == "name" || attribute.starts_with("xmlns")) return true;
  if (element == "installation") return attribute.empty() || attribute == "ruleset";
  return element == "raceway" && (attribute == "from" || attribute == "to");
}

std::string times(std::uint32_t count) { return count == 1 ? "once" : fmt::format("{} times", count); }

}  // namespace

std::vector<figure::Id> figures_read_by(figure::Id id) {
  std::set<figure::Id> out;
  collect(id, out);
  return {out.begin(), out.end()};
}

std::vector<std::string_view> reads_of(figure::Id id) {
  std::set<std::string_view> out;
  for (const figure::Id each : figures_read_by(id)) {
    each_word(figure::info(each).reads, [&](std::string_view word) {
      if (!word.starts_with(figure_mark)) out.insert(word);
    });
  }
  return {out.begin(), out.end()};
}

std::vector<NotChecked> unread(const installation::Model& model, const std::vector<BoundRule>& rules,
                               const Law* law) {
  std::set<std::string, std::less<>> read;
  std::set<std::string, std::less<>> elements;  // of which at least something is read
  for (const BoundRule& bound : rules) {
    if (!bound.in_force() || !bound.fault.empty()) continue;
    for (const ReadFigure& figure : bound.figures) {
      for (const std::string_view word : reads_of(figure.id)) {
        read.emplace(word);
        elements.emplace(word.substr(0, word.find('@')));
      }
    }
  }
  if (law != nullptr) {
    for (const Scope& scope : law->scopes) collect(scope.when, read, elements);
    for (const Requirement& r : law->requirements) {
      collect(r.given, read, elements);
      collect(r.must, read, elements);
    }
  }
  std::vector<NotChecked> out;
  for (const installation::StatedFact& fact : model.facts) {
    if (law == nullptr || law->fact(fact.name) == nullptr)
      out.push_back({fmt::format("fact {} of {}", fact.name, fact.of), "the ruleset does not declare it"});
  }
  for (const installation::Usage& usage : model.usage) {
    if (usage.element == "fact" && law != nullptr) continue;  // said above
    if (always_read(usage.element, usage.attribute)) continue;
    if (elements.find(usage.element) == elements.end() && usage.element != "installation") {
      // Then each of its attributes is unread as well: one line says it.
      if (usage.attribute.empty()) {
        out.push_back(
            {fmt::format("element {} ({})", usage.element, times(usage.count)), "no rule in force reads it"});
      }
      continue;
    }
    if (usage.attribute.empty() || read.count(fmt::format("{}@{}", usage.element, usage.attribute)) != 0)
      continue;
    out.push_back({fmt::format("attribute {}@{} ({})", usage.element, usage.attribute, times(usage.count)),
                   "no rule in force reads it"});
  }
  return out;
}

}  // namespace raceward::checking
