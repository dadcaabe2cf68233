// Citations of a layer: checked, made into words and kept once each.
#pragma once

#include <map>
#include <optional>
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
  /// Checks and takes up the documents and sources of a layer. `layer` must outlive the Citer.
  Citer(const TextFile& file, const Layer& layer, std::vector<Citation>& citations, Problems& problems);

  /// The citation that the fields make, or `no_citation` and at least one problem. `file` is where the fields
  /// stand and `offset` the value that needs a citation.
  CitationId cite(const TextFile& file, const CitationFields& fields, std::size_t offset);

 private:
  const DocumentFields* document(const TextFile& file, const Field& id, std::size_t offset);
  std::optional<std::string> sources(const TextFile& file, const Field& ids);

  const Layer& layer_;
  std::vector<Citation>& citations_;
  Problems& problems_;
  std::map<std::string_view, const DocumentFields*, std::less<>> documents_;
  std::map<std::string_view, const SourceFields*, std::less<>> sources_;
  std::map<std::string, CitationId, std::less<>> known_;
};

}  // namespace raceward::ruleset
