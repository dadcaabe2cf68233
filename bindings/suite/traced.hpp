// Which numbers of a law an installation rests on.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// A law whose every number cites itself: what a figure cites tells what it rests on.
class Traced {
 public:
  explicit Traced(const Law& law);

  struct Entry {
    std::string layer;             ///< that sets it
    std::string file;              ///< of that layer; empty where it sets nothing but rows of tables
    std::string what;              ///< "parameter nipple-length", "table raceway-support: EMT, all, general"
    std::string stands;            ///< the section
    std::size_t table = no_table;  ///< position in Law::tables; none: it is a parameter
    std::size_t at = 0;            ///< position of the parameter, or the row
  };
  static constexpr std::size_t no_table = static_cast<std::size_t>(-1);
  [[nodiscard]] const Law& law() const { return law_; }
  [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }

  /// What judges by an entry, and how; nothing where only a figure rests on it that no rule in force reads.
  struct Use {
    bool complies = false, violates = false;
    std::set<std::size_t> rules;  ///< positions in the ledger of the report
  };
  /// By position, the entries that the installation's figures and verdicts rest on.
  [[nodiscard]] std::map<std::size_t, Use> used(const Installation& installation, const Report& report,
                                                const std::vector<const Rule*>& rules) const;

 private:
  /// The parameters that its expressions name.
  [[nodiscard]] std::set<std::size_t> named_by(const DataRule& rule) const;
  /// Lines of the ledger by the figures that their rules read.
  [[nodiscard]] std::map<std::string, std::vector<const LedgerLine*>> readers(
      const Report& report, const std::vector<const Rule*>& rules) const;
  CitationId add(const Law& law, CitationId old, LayerId layer, Entry entry);

  std::vector<std::string> files_;  // by layer
  Law law_;
  std::vector<Entry> entries_;
  std::map<std::string, std::size_t> parameters_;
};

}  // namespace raceward::suite
