// Citations of the layers of a ruleset: checked, made into words and kept once each.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/law.hpp"
#include "ruleset/layer.hpp"

namespace raceward::ruleset {

/// The basis of that spelling; nothing where there is none.
std::optional<Basis> basis_of(std::string_view text);

class Citer {
 public:
  explicit Citer(Problems& problems) : problems_(problems) {}

  /// Checks and takes up the documents and sources of the next layer, base first, and renumbers the sections
  /// that the layers below it cite.
  void open(const TextFile& file, const Layer& layer);

  /// The citation that the fields make, or `no_citation` and at least one problem. `file` is where the fields
  /// stand and `offset` the value that needs a citation.
  CitationId cite(const TextFile& file, const CitationFields& fields, std::size_t offset);

  /// True where the two say the same of the same document.
  [[nodiscard]] bool same(CitationId a, CitationId b) const;

  /// Whether the last layer cites in a document, or names a source, of that id.
  [[nodiscard]] bool has_used(std::string_view id) const { return used_.find(id) != used_.end(); }

  /// All citations under the documents that the last layer has in force.
  [[nodiscard]] std::vector<Citation> citations() const;

 private:
  /// What stands behind a value apart from where in the document it stands.
  struct Support {
    Basis basis = Basis::memory;
    std::string source, note;
  };
  struct Entry {
    std::string document;
    std::string section;
    Support support;
    std::string edition;        ///< that of the document where it was cited
    std::string first_section;  ///< its number there
    std::string renumbered_by;  ///< how the new number came to us; empty where it is the first one
  };
  struct Document {
    std::string cited_as, title, edition;
    friend bool operator==(const Document&, const Document&) = default;
  };
  using Documents = std::map<std::string, Document, std::less<>>;

  void open_documents(const TextFile& file, const Layer& layer);
  void open_sources(const TextFile& file, const Layer& layer);
  void renumber(const TextFile& file, const Layer& layer);
  std::string_view document(const TextFile& file, const Field& id, std::size_t offset);
  std::optional<std::string> sources(const TextFile& file, const Field& ids);
  std::optional<Support> support(const TextFile& file, const CitationFields& f, std::size_t offset);

  Problems& problems_;
  std::set<std::string, std::less<>> used_;  ///< of this layer: ids of documents and sources
  bool has_base_ = false;
  std::vector<Entry> entries_;
  Documents documents_;
  std::string first_document_;                               ///< meant where none is named
  std::map<std::string, std::string, std::less<>> sources_;  ///< id and title
  std::map<std::string, CitationId, std::less<>> known_;     ///< of this layer, by what was written
};

}  // namespace raceward::ruleset
