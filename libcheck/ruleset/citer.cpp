#include "ruleset/citer.hpp"

#include <array>

namespace raceward::ruleset {
namespace {

constexpr std::array bases = {Basis::read, Basis::derived, Basis::memory, Basis::common_practice};

template <class Map>
std::vector<std::string_view> names_of(const Map& map) {
  std::vector<std::string_view> names;
  for (const auto& entry : map) names.push_back(entry.first);
  return names;
}

}  // namespace

std::optional<Basis> basis_of(std::string_view text) {
  for (const Basis basis : bases) {
    if (name_of(basis) == text) return basis;
  }
  return std::nullopt;
}

Citer::Citer(const TextFile& file, const Layer& layer, std::vector<Citation>& citations, Problems& problems)
    : layer_(layer), citations_(citations), problems_(problems) {
  const auto twice = [&](const Field& id) {
    problems.add(file, id.offset,
                 "id " + quoted(id.text) + " stands twice; documents and sources need ids of their own");
  };
  for (const DocumentFields& d : layer.documents) {
    if (d.id.text.empty()) continue;
    if (!is_word(d.id.text)) {
      problems.add(file, d.id.offset,
                   "id " + quoted(d.id.text) + " is no name; write small letters, digits and hyphens");
    }
    if (!documents_.emplace(d.id.text, &d).second) twice(d.id);
  }
  for (const SourceFields& s : layer.sources) {
    if (s.id.text.empty()) continue;
    if (s.id.text.find_first_of(" \t\n;,") != std::string::npos) {
      problems.add(file, s.id.offset,
                   "source id " + quoted(s.id.text) + " may hold no space, comma or semicolon");
    }
    if (documents_.count(s.id.text) != 0 || !sources_.emplace(s.id.text, &s).second) twice(s.id);
  }
}

const DocumentFields* Citer::document(const TextFile& file, const Field& id, std::size_t offset) {
  if (!id.written) {
    if (!layer_.documents.empty()) return &layer_.documents.front();
    problems_.add(file, offset, "no document is cited; the layer needs a <document>");
    return nullptr;
  }
  const auto found = documents_.find(id.text);
  if (found != documents_.end()) return found->second;
  problems_.add(file, id.offset,
                "document " + quoted(id.text) + " is not among the layer's <document> elements" +
                    suggestion(id.text, names_of(documents_)));
  return nullptr;
}

std::optional<std::string> Citer::sources(const TextFile& file, const Field& ids) {
  std::string words;
  bool good = true;
  std::string_view rest = ids.text;
  while (!(rest = trimmed(rest)).empty()) {
    const std::string_view id = rest.substr(0, rest.find_first_of(" \t\n"));
    rest.remove_prefix(id.size());
    const auto found = sources_.find(id);
    if (found == sources_.end()) {
      problems_.add(file, ids.offset,
                    "source " + quoted(id) + " is not among the layer's <source> elements" +
                        suggestion(id, names_of(sources_)));
      good = false;
      continue;
    }
    if (!words.empty()) words += "; ";
    words += found->second->title.text;
  }
  return good ? std::optional(words) : std::nullopt;
}

CitationId Citer::cite(const TextFile& file, const CitationFields& f, std::size_t offset) {
  // A table repeats its citation on every row: looking up what was written saves checking it again.
  std::string key = f.document.text;
  for (const Field* field : {&f.section, &f.basis, &f.source, &f.note}) (key += '\x1f') += field->text;
  if (const auto found = known_.find(key); found != known_.end()) return found->second;

  bool good = true;
  const auto fault = [&](std::size_t at, std::string message) {
    problems_.add(file, at, std::move(message));
    good = false;
  };
  const DocumentFields* document = this->document(file, f.document, offset);
  good = document != nullptr;
  std::optional<Basis> basis;
  if (f.basis.text.empty()) {
    fault(offset, "a value without basis; say read, derived, memory or common-practice");
  } else if (!(basis = basis_of(f.basis.text))) {
    fault(f.basis.offset, "basis " + quoted(f.basis.text) + " is not known" +
                              suggestion(f.basis.text, {"read", "derived", "memory", "common-practice"}));
  }
  if (f.section.text.empty() && basis != Basis::common_practice) {
    fault(offset, "a value without section; say where in the document it stands");
  }
  const bool from_source = basis == Basis::read || basis == Basis::derived;
  std::optional<std::string> words = sources(file, f.source);
  good = good && words.has_value();
  if (basis && from_source && f.source.text.empty()) {
    fault(offset, "basis " + quoted(f.basis.text) + " without source; name what was read");
  }
  if (basis && !from_source && !f.source.text.empty()) {
    fault(f.source.offset,
          "basis " + quoted(f.basis.text) + " has no source; leave the source out, or say read or derived");
  }
  if (!good) return no_citation;

  citations_.push_back({document->cited_as.written ? document->cited_as.text : document->title.text,
                        document->edition.text, f.section.text, *basis, std::move(*words), f.note.text});
  return known_.emplace(std::move(key), static_cast<CitationId>(citations_.size() - 1)).first->second;
}

}  // namespace raceward::ruleset
