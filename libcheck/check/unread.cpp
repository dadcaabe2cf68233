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

/// Some of a list of words, by their positions.
class Words {
 public:
  explicit Words(std::size_t count) : bits_(count / 64 + 1) {}
  void add(std::size_t at) { bits_[at / 64] |= std::uint64_t{1} << at % 64; }
  void add(const Words& others) {
    for (std::size_t i = 0; i < bits_.size(); ++i) bits_[i] |= others.bits_[i];
  }
  [[nodiscard]] bool has(std::size_t at) const { return (bits_[at / 64] >> at % 64 & 1) != 0; }

 private:
  std::vector<std::uint64_t> bits_;
};

/// What figures read, themselves and through others; made once, of constants.
class Reads {
 public:
  Reads() {
    for (std::size_t i = 0; i < figure::figure_count; ++i) {
      each_word(figure::info(static_cast<figure::Id>(i)).reads, [&](std::string_view word) {
        if (!word.starts_with(figure_mark)) words_.push_back(word);
      });
    }
    std::sort(words_.begin(), words_.end());
    words_.erase(std::unique(words_.begin(), words_.end()), words_.end());
    for (std::size_t i = 0; i < figure::figure_count; ++i) {
      Words& of = of_.emplace_back(words_.size());
      for (const figure::Id each : figures_read_by(static_cast<figure::Id>(i))) {
        each_word(figure::info(each).reads, [&](std::string_view word) {
          if (!word.starts_with(figure_mark)) of.add(at(word));
        });
      }
    }
  }
  [[nodiscard]] const std::vector<std::string_view>& words() const { return words_; }
  [[nodiscard]] const Words& of(figure::Id id) const { return of_[static_cast<std::size_t>(id)]; }
  /// words().size() where no figure reads it.
  [[nodiscard]] std::size_t at(std::string_view word) const {
    const auto found = std::lower_bound(words_.begin(), words_.end(), word);
    return found == words_.end() || *found != word ? words_.size()
                                                   : static_cast<std::size_t>(found - words_.begin());
  }

 private:
  std::vector<std::string_view> words_;  // sorted
  std::vector<Words> of_;
};

const Reads& all_reads() {
  static const Reads made;
  return made;
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
  const Reads& all = all_reads();
  std::vector<std::string_view> out;
  for (std::size_t i = 0; i < all.words().size(); ++i) {
    if (all.of(id).has(i)) out.push_back(all.words()[i]);
  }
  return out;
}

std::vector<NotChecked> unread(const installation::Model& model, const std::vector<BoundRule>& rules,
                               const Law* law) {
  const Reads& all = all_reads();
  Words by_rules(all.words().size());
  std::vector<bool> seen(figure::figure_count);
  for (const BoundRule& bound : rules) {
    if (!bound.in_force() || !bound.fault.empty()) continue;
    for (const ReadFigure& figure : bound.figures) {
      if (seen[static_cast<std::size_t>(figure.id)]) continue;
      seen[static_cast<std::size_t>(figure.id)] = true;
      by_rules.add(all.of(figure.id));
    }
  }
  std::set<std::string, std::less<>> read;      // by conditions and data rules
  std::set<std::string, std::less<>> elements;  // of which at least something is read
  for (std::size_t i = 0; i < all.words().size(); ++i) {
    if (!by_rules.has(i)) continue;
    const std::string_view element = all.words()[i].substr(0, all.words()[i].find('@'));
    if (elements.find(element) == elements.end()) elements.emplace(element);
  }
  for (const BoundRule& bound : rules) {
    if (bound.program == nullptr || !bound.in_force() || !bound.fault.empty()) continue;
    for (const std::string& word : bound.program->words_read()) {
      elements.emplace(word.substr(0, word.find('@')));
      read.insert(word);
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
    if (usage.attribute.empty()) continue;
    const std::string word = fmt::format("{}@{}", usage.element, usage.attribute);
    const std::size_t at = all.at(word);
    if ((at < all.words().size() && by_rules.has(at)) || read.count(word) != 0) continue;
    out.push_back({fmt::format("attribute {}@{} ({})", usage.element, usage.attribute, times(usage.count)),
                   "no rule in force reads it"});
  }
  return out;
}

}  // namespace raceward::checking
