#include "check/unread.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

#include "figure/attested.hpp"
#include "ruleset/text_file.hpp"

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

/// Figures that are read, each looked into once.
class Figures {
 public:
  void add(figure::Id id) {
    if (seen_[static_cast<std::size_t>(id)]) return;
    seen_[static_cast<std::size_t>(id)] = true;
    all_.push_back(id);
    each_word(figure::info(id).reads, [&](std::string_view word) {
      if (!word.starts_with(figure_mark)) {
        words_.insert(word);
        return;
      }
      const figure::Info* next = figure::find(word.substr(figure_mark.size()));
      if (next != nullptr) add(next->id);
    });
  }
  [[nodiscard]] std::vector<figure::Id> all() const {
    std::vector<figure::Id> out = all_;
    std::sort(out.begin(), out.end());
    return out;
  }
  /// What they read of documents.
  [[nodiscard]] const std::unordered_set<std::string_view>& words() const { return words_; }

 private:
  std::vector<bool> seen_ = std::vector<bool>(figure::figure_count);
  std::vector<figure::Id> all_;
  std::unordered_set<std::string_view> words_;
};

/// Reports name things by these, and the graph is made of them, whatever the rules.
bool always_read(std::string_view element, std::string_view attribute) {
  if (attribute == "id" || attribute == "name" || attribute.starts_with("xmlns")) return true;
  if (element == "installation") return attribute.empty() || attribute == "ruleset";
  return element == "raceway" && (attribute == "from" || attribute == "to");
}

std::string times(std::uint32_t count) { return count == 1 ? "once" : fmt::format("{} times", count); }

}  // namespace

std::vector<figure::Id> figures_read_by(figure::Id id) {
  Figures figures;
  figures.add(id);
  return figures.all();
}

std::vector<std::string_view> reads_of(figure::Id id) {
  Figures figures;
  figures.add(id);
  std::vector<std::string_view> out(figures.words().begin(), figures.words().end());
  std::sort(out.begin(), out.end());
  return out;
}

WordsRead::WordsRead(const std::vector<BoundRule>& rules, const Law* law) : law_(law) {
  Figures figures;
  for (const BoundRule& bound : rules) {
    if (!bound.in_force() || !bound.fault.empty()) continue;
    for (const ReadFigure& figure : bound.figures) figures.add(figure.id);
    if (bound.program == nullptr) continue;
    for (const std::string& word : bound.program->words_read()) {
      add(word);
      every_attest_ = every_attest_ || word.starts_with("attest@");
    }
  }
  for (const std::string_view word : figures.words()) add(word);
  if (law == nullptr) return;
  for (const Scope& scope : law->scopes) add(scope.when);
  for (const Requirement& r : law->requirements) {
    add(r.given);
    add(r.must);
  }
}

void WordsRead::add(std::string_view word) {
  const std::size_t mark = std::min(word.find('@'), word.size());
  Attributes& of = read_[std::string(word.substr(0, mark))];
  if (mark < word.size()) of.emplace(word.substr(mark + 1));
}

void WordsRead::add(const Condition& condition) {
  for (const Condition& part : condition.parts) add(part);
  if (condition.kind == Condition::Kind::attribute) read_[condition.element].insert(condition.name);
  if (condition.kind == Condition::Kind::fact) read_["stated"].insert(condition.name);
  if (condition.kind != Condition::Kind::attested) return;
  read_["attest"].insert({"fact", "of"});
  attested_.insert(condition.name);
}

bool WordsRead::attribute(std::string_view element, std::string_view name) const {
  const auto of = read_.find(element);
  return of != read_.end() && of->second.find(name) != of->second.end();
}

const DeclaredFact* WordsRead::declared(std::string_view fact) const {
  return law_ == nullptr ? nullptr : law_->fact(fact);
}

std::string WordsRead::like(std::string_view fact) const {
  std::vector<std::string_view> names;
  if (law_ != nullptr)
    for (const DeclaredFact& each : law_->facts) names.push_back(each.name);
  return ruleset::suggestion(fact, names);
}

namespace {

/// Of what kind the element of an id is, where attests and facts may be of it.
class Kinds {
 public:
  explicit Kinds(const installation::Model& model) {
    kinds_[model.id] = SubjectKind::installation;
    for (const installation::Place& p : model.places) kinds_[p.id] = installation::subject_kind(p.kind);
    for (const installation::Raceway& r : model.raceways) kinds_[r.id] = SubjectKind::raceway;
    for (const installation::Area& a : model.areas) kinds_[a.id] = SubjectKind::area;
    for (const installation::Circuit& c : model.circuits) kinds_[c.id] = SubjectKind::circuit;
    for (const installation::Device& d : model.devices) kinds_[d.id] = SubjectKind::device;
  }
  [[nodiscard]] bool is(std::string_view id, SubjectKind wanted) const {
    const auto kind = kinds_.find(id);
    return kind != kinds_.end() &&
           (kind->second == wanted || (wanted == SubjectKind::place && is_place(kind->second)));
  }
  [[nodiscard]] bool knows(std::string_view id) const { return kinds_.contains(id); }

 private:
  std::unordered_map<std::string_view, SubjectKind> kinds_;
};

/// Tells of attests with a word that nothing asks for, or of an element of a kind that it is not asked of.
class Attests {
 public:
  Attests(const Kinds& kinds, const WordsRead& read) : read_(read), kinds_(kinds) {
    for (const figure::AttestedRow& row : figure::attested_rows) words_.push_back(row.word);
    words_.insert(words_.end(), read.attested().begin(), read.attested().end());
  }

  /// Why nothing reads it; empty where something may.
  [[nodiscard]] std::string unread(const installation::Attestation& attest) const {
    if (read_.attested().contains(attest.fact) || read_.every_attest()) return {};
    const auto rows = std::span(figure::attested_rows);
    const auto row = std::find_if(rows.begin(), rows.end(),
                                  [&](const figure::AttestedRow& r) { return r.word == attest.fact; });
    if (row == rows.end()) return "nothing asks for it" + ruleset::suggestion(attest.fact, words_);
    if (kinds_.is(attest.of, row->of)) return {};
    return fmt::format("it is asked of another kind of element: {}",
                       row->of == SubjectKind::place ? "panel, box or equipment" : name_of(row->of));
  }

 private:
  const WordsRead& read_;
  const Kinds& kinds_;
  std::vector<std::string_view> words_;
};

}  // namespace

namespace {

/// What the document attests and states of itself, and nothing reads.
void tell_stated(const installation::Model& model, const WordsRead& read, std::vector<NotChecked>& out) {
  const Kinds kinds(model);
  const Attests attests(kinds, read);
  for (const installation::Attestation& attest : model.attestations)
    if (std::string why = attests.unread(attest); !why.empty())
      out.push_back({fmt::format("attest {} of {}", attest.fact, attest.of), std::move(why)});
  for (const installation::StatedFact& fact : model.facts) {
    const std::string what = fmt::format("fact {} of {}", fact.name, fact.of);
    const DeclaredFact* const declared = read.declared(fact.name);
    if (declared == nullptr)
      out.push_back({what, "the ruleset does not declare it" + read.like(fact.name)});
    else if (kinds.knows(fact.of) && !kinds.is(fact.of, declared->of))
      out.push_back(
          {what, fmt::format("it is declared of another kind of element: {}", name_of(declared->of))});
    else if (!read.attribute("stated", fact.name))
      out.push_back({what, "no rule in force reads it"});
  }
}

}  // namespace

std::vector<NotChecked> unread(const installation::Model& model, const WordsRead& read) {
  std::vector<NotChecked> out;
  if (!model.attestations.empty() || !model.facts.empty()) tell_stated(model, read, out);
  std::vector<installation::Usage> by_name = model.usage;
  std::sort(by_name.begin(), by_name.end(), [](const auto& a, const auto& b) {
    return std::tie(a.element, a.attribute) < std::tie(b.element, b.attribute);
  });
  for (const installation::Usage& usage : by_name) {
    if (usage.element == "fact") continue;    // said above
    if (usage.element == "waiver") continue;  // read by none, and told in the report
    if (always_read(usage.element, usage.attribute)) continue;
    if (!read.element(usage.element) && usage.element != "installation") {
      // Then each of its attributes is unread as well: one line says it.
      if (usage.attribute.empty()) {
        out.push_back(
            {fmt::format("element {} ({})", usage.element, times(usage.count)), "no rule in force reads it"});
      }
      continue;
    }
    if (usage.attribute.empty() || read.attribute(usage.element, usage.attribute)) continue;
    out.push_back({fmt::format("attribute {}@{} ({})", usage.element, usage.attribute, times(usage.count)),
                   "no rule in force reads it"});
  }
  return out;
}

}  // namespace raceward::checking
