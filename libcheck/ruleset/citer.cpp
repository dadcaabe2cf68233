#include "ruleset/citer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

namespace raceward::ruleset {
namespace {

constexpr std::array bases = {Basis::read, Basis::derived, Basis::memory, Basis::common_practice};

template <class Map>
std::vector<std::string_view> names_of(const Map& map) {
  std::vector<std::string_view> names;
  for (const auto& entry : map) names.push_back(entry.first);
  return names;
}

std::string all_of(const std::vector<std::string_view>& names) {
  std::string out;
  for (const std::string_view name : names) out += (out.empty() ? "; it has " : ", ") + std::string(name);
  return out;
}

bool is_of_number(char c) {
  return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

/// True where text[at, at + size) is a whole section number, or the beginning of one: "250.118" and
/// "250.118(A)" of "250.118(A)(5)", but not "250.11", nor "50.118".
bool is_number_at(std::string_view text, std::size_t at, std::size_t size) {
  const auto is = [&](std::size_t i, auto what) { return i < text.size() && what(text[i]); };
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  const auto dot = [](char c) { return c == '.'; };
  const std::size_t end = at + size;
  const bool begins = at == 0 || !(is(at - 1, is_of_number) || is(at - 1, dot)) || !is(at, is_of_number);
  const bool ends = !is(end, is_of_number) || !is(end - 1, is_of_number);
  return begins && ends && !(is(end, dot) && is(end + 1, digit));
}

}  // namespace

std::optional<Basis> basis_of(std::string_view text) {
  for (const Basis basis : bases) {
    if (name_of(basis) == text) return basis;
  }
  return std::nullopt;
}

void Citer::open(const TextFile& file, const Layer& layer) {
  has_base_ = layer.base.written;
  known_.clear();
  used_.clear();
  open_documents(file, layer);
  open_sources(file, layer);
  renumber(file, layer);
}

void Citer::open_documents(const TextFile& file, const Layer& layer) {
  const Documents below = documents_;
  std::set<std::string_view> own;
  bool first = true;
  for (const DocumentFields& d : layer.documents) {
    if (d.id.text.empty()) continue;
    if (!is_word(d.id.text)) {
      problems_.add(file, d.id.offset,
                    "id " + quoted(d.id.text) + " is no name; write small letters, digits and hyphens");
    }
    if (!own.insert(d.id.text).second) {
      problems_.add(file, d.id.offset,
                    "id " + quoted(d.id.text) + " stands twice; documents and sources need ids of their own");
      continue;
    }
    const Document made{d.cited_as.text, d.title.text, d.edition.text};
    const auto known = below.find(d.id.text);
    const bool replaces = d.change.text == "replace";
    if (d.change.written && !replaces) {
      problems_.add(file, d.change.offset,
                    "change " + quoted(d.change.text) + " is not known on <document>; write replace");
    } else if (replaces && known == below.end()) {
      problems_.add(file, d.id.offset,
                    "document " + quoted(d.id.text) + " replaces nothing: the base has none of this id" +
                        suggestion(d.id.text, names_of(below)) + all_of(names_of(below)));
    } else if (!replaces && known != below.end()) {
      problems_.add(file, d.id.offset,
                    "document " + quoted(d.id.text) +
                        " is the base's; give yours another id, or say change=\"replace\"");
    } else if (replaces && known->second == made) {
      problems_.add(file, d.id.offset, "document " + quoted(d.id.text) + " is as in the base; leave it out");
    }
    documents_[d.id.text] = made;
    if (first) first_document_ = d.id.text;
    first = false;
  }
}

void Citer::open_sources(const TextFile& file, const Layer& layer) {
  std::set<std::string_view> own;
  for (const DocumentFields& d : layer.documents) own.insert(d.id.text);
  for (const SourceFields& s : layer.sources) {
    if (s.id.text.empty()) continue;
    if (s.id.text.find_first_of(" \t\n;,") != std::string::npos) {
      problems_.add(file, s.id.offset,
                    "source id " + quoted(s.id.text) + " may hold no space, comma or semicolon");
    }
    if (!own.insert(s.id.text).second) {
      problems_.add(file, s.id.offset,
                    "id " + quoted(s.id.text) + " stands twice; documents and sources need ids of their own");
    }
    sources_[s.id.text] = s.title.text;  // a source of the base keeps its title where the base cites it
  }
}

void Citer::renumber(const TextFile& file, const Layer& layer) {
  struct Number {
    const RenumberedFields* fields;
    std::string_view document;
    std::string how;
    bool used = false;
  };
  std::vector<Number> numbers;
  std::set<std::pair<std::string_view, std::string_view>> seen;
  for (const RenumberedFields& r : layer.renumbered) {
    if (r.from.text.empty() || r.to.text.empty() || r.cite.basis.text.empty()) continue;
    if (!has_base_) {
      problems_.add(file, r.from.offset, "a layer without base has no section to renumber; leave this out");
      continue;
    }
    if (r.from.text == r.to.text) {
      problems_.add(file, r.to.offset,
                    "section " + quoted(r.from.text) + " keeps its number; leave this out");
      continue;
    }
    const std::string_view of = document(file, r.cite.document, r.from.offset);
    const auto support = this->support(file, r.cite, r.from.offset);
    if (of.empty() || !support) continue;
    if (!seen.emplace(of, r.from.text).second) {
      problems_.add(file, r.from.offset, "section " + quoted(r.from.text) + " is renumbered twice");
      continue;
    }
    std::string how = support->basis == Basis::memory
                          ? "number here from memory"
                          : fmt::format("number here {}", name_of(support->basis));
    if (!support->source.empty())
      how += (support->basis == Basis::read ? " in " : " from ") + support->source;
    if (!support->note.empty()) how += "; " + support->note;
    numbers.push_back({&r, of, std::move(how)});
  }
  // The longest first, and each place of a section once: a new number is not renumbered again.
  std::stable_sort(numbers.begin(), numbers.end(), [](const Number& a, const Number& b) {
    return a.fields->from.text.size() > b.fields->from.text.size();
  });
  for (Entry& entry : entries_) {
    std::string made;
    for (std::size_t at = 0; at < entry.section.size();) {
      const auto found = std::find_if(numbers.begin(), numbers.end(), [&](const Number& n) {
        const std::string& from = n.fields->from.text;
        return n.document == entry.document && entry.section.compare(at, from.size(), from) == 0 &&
               is_number_at(entry.section, at, from.size());
      });
      if (found == numbers.end()) {
        made += entry.section[at++];
        continue;
      }
      made += found->fields->to.text;
      at += found->fields->from.text.size();
      entry.renumbered_by = found->how;
      found->used = true;
    }
    entry.section = std::move(made);
  }
  for (const Number& n : numbers) {
    if (n.used) continue;
    problems_.add(file, n.fields->from.offset,
                  "the base cites no section " + quoted(n.fields->from.text) + " of " +
                      std::string(n.document) + "; leave this out");
  }
}

std::string_view Citer::document(const TextFile& file, const Field& id, std::size_t offset) {
  if (!id.written) {
    if (first_document_.empty()) {
      problems_.add(file, offset, "no document is cited; the layer needs a <document>");
    }
    used_.insert(first_document_);
    return first_document_;
  }
  const auto found = documents_.find(id.text);
  if (found != documents_.end()) {
    used_.insert(found->first);
    return found->first;
  }
  problems_.add(file, id.offset,
                "document " + quoted(id.text) + " is not among the layer's <document> elements" +
                    (has_base_ ? " nor its base's" : "") + suggestion(id.text, names_of(documents_)));
  return {};
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
                        (has_base_ ? " nor its base's" : "") + suggestion(id, names_of(sources_)));
      good = false;
      continue;
    }
    used_.emplace(id);
    if (!words.empty()) words += "; ";
    words += found->second;
  }
  return good ? std::optional(words) : std::nullopt;
}

std::optional<Citer::Support> Citer::support(const TextFile& file, const CitationFields& f,
                                             std::size_t offset) {
  bool good = true;
  const auto fault = [&](std::size_t at, std::string message) {
    problems_.add(file, at, std::move(message));
    good = false;
  };
  std::optional<Basis> basis;
  if (f.basis.text.empty()) {
    fault(offset, "a value without basis; say read, derived, memory or common-practice");
  } else if (!(basis = basis_of(f.basis.text))) {
    const std::string meant = suggestion(f.basis.text, {"read", "derived", "memory", "common-practice"});
    fault(f.basis.offset, "basis " + quoted(f.basis.text) + " is not known" +
                              (meant.empty() ? "; write read, derived, memory or common-practice" : meant));
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
  if (!good) return std::nullopt;
  return Support{*basis, std::move(*words), f.note.text};
}

CitationId Citer::cite(const TextFile& file, const CitationFields& f, std::size_t offset) {
  // A table repeats its citation on every row: looking up what was written saves checking it again.
  std::string key = f.document.text;
  for (const Field* field : {&f.section, &f.basis, &f.source, &f.note}) (key += '\x1f') += field->text;
  if (const auto found = known_.find(key); found != known_.end()) return found->second;

  const std::string_view id = document(file, f.document, offset);
  const bool needs_section = f.section.text.empty() && basis_of(f.basis.text) != Basis::common_practice;
  if (needs_section)
    problems_.add(file, offset, "a value without section; say where in the document it stands");
  std::optional<Support> support = this->support(file, f, offset);
  if (id.empty() || needs_section || !support) return no_citation;

  entries_.push_back({std::string(id),
                      f.section.text,
                      std::move(*support),
                      documents_.find(id)->second.edition,
                      f.section.text,
                      {}});
  return known_.emplace(std::move(key), static_cast<CitationId>(entries_.size() - 1)).first->second;
}

bool Citer::same(CitationId a, CitationId b) const {
  if (a == b || a >= entries_.size() || b >= entries_.size()) return a == b;
  const Entry &x = entries_[a], &y = entries_[b];
  return x.document == y.document && x.section == y.section && x.edition == y.edition &&
         x.support.basis == y.support.basis && x.support.source == y.support.source &&
         x.support.note == y.support.note && x.renumbered_by == y.renumbered_by;
}

std::vector<Citation> Citer::citations() const {
  std::vector<Citation> out;
  out.reserve(entries_.size());
  for (const Entry& e : entries_) {
    const Document& d = documents_.find(e.document)->second;
    std::string inherited;
    if (d.edition != e.edition) {
      inherited = "taken over from " + (e.edition.empty() ? "a document" : "edition " + e.edition);
    }
    if (!e.renumbered_by.empty()) {
      inherited += (inherited.empty() ? "taken over from the base" : "") +
                   fmt::format(", where it is {} ({})", e.first_section, e.renumbered_by);
    }
    out.push_back({d.cited_as.empty() ? d.title : d.cited_as, d.edition, e.section, e.support.basis,
                   e.support.source, e.support.note, std::move(inherited)});
  }
  return out;
}

}  // namespace raceward::ruleset
