// Law as data: numbers with their source, as a resolved ruleset holds them.
//
// Figures and rules read a Law; they never see the files it came from. A Law is safe to read from any number
// of threads. Whoever amends one by code changes a copy before it is used: keep parameters, tables and rules
// sorted, and push a Citation for what is new, so that reports do not cite another document for it.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/export.h"
#include "raceward/place.hpp"
#include "raceward/quantity.hpp"
#include "raceward/subject.hpp"

namespace raceward {

/// How a value came to us.
enum class Basis : std::uint8_t {
  read,             ///< read in the named source
  derived,          ///< computed from values read in the named source
  memory,           ///< recalled, not proved by a source
  common_practice,  ///< the trade's habit, no code behind it
};
RACEWARD_API std::string_view name_of(Basis basis);

/// Where a requirement or a value stands.
struct Citation {
  std::string document;  ///< "NFPA 70"
  std::string edition;   ///< "2023"
  std::string section;   ///< "358.30(A)", "Chapter 9 Table 4"
  Basis basis = Basis::memory;
  std::string source;  ///< what was read, in words; empty for memory and common practice
  std::string
      note{};  ///< what a reader must know of it, such as "read in the 2008 edition; taken as unchanged"
  std::string inherited{};  ///< "taken over from edition 2023": the number stands under another document here

  friend bool operator==(const Citation&, const Citation&) = default;
};

/// Index of a citation in Law::citations.
using CitationId = std::uint32_t;
inline constexpr CitationId no_citation = 0xffffffffu;

/// Index of a layer in Law::layers.
using LayerId = std::uint32_t;

/// One number of law, or a word ("surface", "4 AWG").
struct Parameter {
  std::string name;  ///< "nipple-length"
  Amount value;      ///< says nothing where `is_word`
  std::string text;  ///< the value as written
  CitationId cite = no_citation;
  Place place{};           ///< where the layer sets it
  bool is_word = false;    ///< written as a text: no number
  LayerId layer = 0;       ///< which layer sets it
  std::string replaces{};  ///< the value that the layers below set, where they set another
};

/// A column of a table: a key (matched as text), a quantity, or plain text.
struct Column {
  enum class Kind : std::uint8_t { key, quantity, text };
  std::string name;
  Kind kind = Kind::text;
  Unit unit = Unit::one;  ///< of a quantity column
};

/// A table of law. Key columns come first; rows keep the file's order; each row has its own citation.
class RACEWARD_API Table {
 public:
  std::string name;
  std::vector<Column> columns;
  Place place{};  ///< the file of its columns
  /// A row of a lower layer that a higher one took out.
  struct Removed {
    std::vector<std::string> keys;
    CitationId cite = no_citation;
    LayerId layer = 0;
  };
  std::vector<Removed> removed;
  /// Which layer sets a row; shorter than the table, or empty: the first layer sets the others.
  std::vector<LayerId> row_layers;

  /// A row number, or none.
  static constexpr std::uint32_t none = 0xffffffffu;

  Table() = default;
  /// Adds a row. REQUIRES: as many cells as columns; quantity cells hold counts in steps of the column's
  /// unit, and `blank` where the table says nothing. Answers false where the keys are already there.
  bool add_row(const std::vector<std::string>& keys, const std::vector<std::int64_t>& quantities,
               const std::vector<std::string>& texts, CitationId cite);

  /// The row whose keys are exactly these, in column order; `none` where there is none. O(1) on average.
  [[nodiscard]] std::uint32_t find(std::initializer_list<std::string_view> keys) const;
  [[nodiscard]] std::uint32_t find(std::span<const std::string_view> keys) const;
  [[nodiscard]] std::uint32_t row_count() const;
  /// Index of the column of that name, for count() or text(); `none` where there is none.
  [[nodiscard]] std::uint32_t column(std::string_view name) const;
  /// The same, where the column holds quantities of that dimension: feet are never taken for degrees.
  [[nodiscard]] std::uint32_t column(std::string_view name, Dimension dimension) const;

  static constexpr std::int64_t blank = INT64_MIN;
  /// Cells; a row or column out of range, such as `none`, reads as blank or empty.
  [[nodiscard]] std::string_view key(std::uint32_t row, std::uint32_t column) const;
  [[nodiscard]] std::int64_t count(std::uint32_t row, std::uint32_t column) const;  ///< or `blank`
  [[nodiscard]] std::string_view text(std::uint32_t row, std::uint32_t column) const;
  /// REQUIRES: row < row_count().
  [[nodiscard]] CitationId cite(std::uint32_t row) const { return cites_[row]; }
  void set_cite(std::uint32_t row, CitationId id) { cites_[row] = id; }
  [[nodiscard]] std::vector<std::string> keys(std::uint32_t row) const;
  /// Adds a row to a table of the same columns; false where that has its keys. REQUIRES: row < row_count().
  bool copy_row(std::uint32_t row, CitationId cite, Table& to) const;
  /// REQUIRES: two tables of the same columns, and rows that they have.
  [[nodiscard]] bool same_cells(std::uint32_t row, const Table& other, std::uint32_t other_row) const;
  [[nodiscard]] LayerId layer(std::uint32_t row) const {
    return row < row_layers.size() ? row_layers[row] : 0;
  }

 private:
  [[nodiscard]] bool has_keys(std::uint32_t row, std::span<const std::string_view> keys) const;
  void put(std::uint32_t row, std::uint64_t hash);
  void grow();

  std::vector<std::uint32_t> slots_;  // open addressing over the joined keys; a power of two, or empty
  std::vector<std::vector<std::string>> texts_;  // per row: a text a column, empty for quantities
  std::vector<std::vector<std::int64_t>> counts_;
  std::vector<CitationId> cites_;
};

/// What a ruleset says of one rule.
struct RuleSetting {
  enum class Force : std::uint8_t { required, advised, off };
  std::string rule;  ///< the rule's id
  Force force = Force::required;
  std::vector<CitationId> cites;
  Place place{};      ///< where the layer names it
  LayerId layer = 0;  ///< which layer names it last
};
RACEWARD_API std::string_view name_of(RuleSetting::Force force);

/// What a ruleset asks to know beside the words of documents: documents state it as <fact>.
struct DeclaredFact {
  enum class Kind : std::uint8_t { word, yes_no, quantity, date };
  std::string name;
  std::string title;  ///< what it is, for people
  SubjectKind of = SubjectKind::installation;
  Kind kind = Kind::word;
  Unit unit = Unit::one;           ///< of a quantity: its dimension counts
  std::vector<std::string> words;  ///< of a word: which there are; empty: any
  Place place{};
  LayerId layer = 0;
};

/// When a change holds: one test, or several joined.
struct Condition {
  enum class Kind : std::uint8_t { all, any, none_of, attribute, fact, figure, attested, count };
  Kind kind = Kind::all;             ///< `all` of nothing holds always
  std::vector<Condition> parts{};    ///< of all, any, none_of; of count: what is counted
  std::string element{}, name{};     ///< attribute: of which element; fact, figure, attested: its name only
  std::vector<std::string> words{};  ///< holds where the value is one of them; empty: see below
  struct Bound {
    enum class Kind : std::uint8_t { none, at_least, at_most, more_than, less_than } kind{};
    Amount amount{};
    std::string date{};  ///< or a size: in place of the amount

    friend bool operator==(const Bound&, const Bound&) = default;
  };
  Bound low{}, high{};
  bool unstated_fails = false;  ///< where the value is not stated, it does not hold

  friend bool operator==(const Condition&, const Condition&) = default;
};

/// Changes that hold under a condition, over what holds without.
struct Scope {
  Condition when;
  std::string words;  ///< the condition as reports write it
  Place place{};
  LayerId layer = 0;
  std::vector<Parameter> parameters;
  std::vector<Table> tables;  ///< rows that stand in the place of others, or are added
  std::vector<RuleSetting> rules;
  std::shared_ptr<const struct Law> adopts;  ///< another law as a whole, in place of what stands below
};

/// A requirement of a local code that says what must hold in the words of conditions. Its force and its
/// citations stand among the rules.
struct Requirement {
  std::string id, title, why;
  SubjectKind subject = SubjectKind::installation;
  Condition given, must;
  std::string message, cure;
  Place place{};
  LayerId layer = 0;
  std::string given_words{}, must_words{};  ///< both in words; that of `given` is empty where it asks nothing
};

/// A rule that a layer brings as data: XPath 1.0 over the element of its subject in the figures document. It
/// is asked where Law::rules names it, as every rule. docs/rulesets.md tells what expressions may say.
struct DataRule {
  /// Where it does not hold, the rule does not apply.
  struct When {
    std::string test;
    std::string reason;  ///< why not, in words

    friend bool operator==(const When&, const When&) = default;
  };
  /// What must hold.
  struct Assert {
    std::string test;
    std::string measured, limit;  ///< expressions that give numbers; may be empty
    std::string message;          ///< {where}, {measured} and {limit} are filled in
    std::string cure;

    friend bool operator==(const Assert&, const Assert&) = default;
  };
  std::string id, title, why;
  SubjectKind subject = SubjectKind::installation;
  std::vector<std::string> needs;     ///< paths that must be known beside those of the expressions
  std::vector<std::string> may_lack;  ///< paths whose absence is a statement
  std::vector<When> whens;            ///< all of them must hold
  std::vector<Assert> asserts;        ///< in this order; the first that does not hold is the breach
  Place place{};                      ///< where the layer writes it
  LayerId layer = 0;
};

/// A layer that is law for a time only, as it says itself.
struct LayerPeriod {
  std::string layer;   ///< id
  std::string from;    ///< first day: "2024-01-01", or empty
  std::string before;  ///< the first day on which it is law no more, or empty
};

/// Where names stand in a sorted list, so that most are found at the first look. A list that has changed
/// since costs time only.
class NameSlots {
 public:
  NameSlots() = default;
  /// Of items that have a name.
  template <class Item>
  explicit NameSlots(const std::vector<Item>& items) {
    std::size_t size = 16;                      // not law: slots
    while (size < items.size() * 4) size *= 2;  // not law: slots an item
    slots_.assign(size, none);
    for (std::size_t i = 0; i < items.size(); ++i) {
      std::size_t at = hash(items[i].name) & (size - 1);
      while (slots_[at] != none) at = (at + 1) & (size - 1);
      slots_[at] = static_cast<std::uint32_t>(i);
    }
  }

  /// The item of that name, or null where it is not seen at once.
  template <class Item>
  [[nodiscard]] const Item* look(const std::vector<Item>& items, std::string_view name) const {
    if (slots_.empty()) return nullptr;
    const std::size_t mask = slots_.size() - 1;
    for (std::size_t at = hash(name) & mask; slots_[at] != none; at = (at + 1) & mask) {
      if (slots_[at] < items.size() && items[slots_[at]].name == name) return &items[slots_[at]];
    }
    return nullptr;
  }

 private:
  static constexpr std::uint32_t none = UINT32_MAX;
  RACEWARD_API static std::size_t hash(std::string_view name);

  std::vector<std::uint32_t> slots_;
};

/// A resolved ruleset: what figures and rules may read.
struct RACEWARD_API Law {
  std::string id;  ///< "nec-2023"
  std::string title;
  bool metric = false;               ///< lengths, areas, volumes are told in millimetres and their like
  std::vector<LayerPeriod> periods;  ///< of layers with one, base first. Outside of that of the uppermost
                                     ///< layer what it stands upon holds; a lower layer is law all the same
  std::vector<std::string> layers;   ///< ids, base first
  std::vector<Citation> citations;
  std::vector<Parameter> parameters;      ///< sorted by name
  std::vector<Table> tables;              ///< sorted by name
  std::vector<RuleSetting> rules;         ///< sorted by rule id
  std::vector<DeclaredFact> facts;        ///< sorted by name
  std::vector<Requirement> requirements;  ///< sorted by id
  std::vector<DataRule> data_rules;       ///< sorted by id
  std::vector<Scope> scopes;              ///< the later ones over the earlier ones
  NameSlots parameter_slots, table_slots;

  /// Nothing where the law has no such name; the caller answers *undetermined* then, never a default.
  [[nodiscard]] const Parameter* parameter(std::string_view name) const;
  /// The same, where it is a number of that dimension: a word or another dimension is as good as nothing.
  [[nodiscard]] const Parameter* parameter(std::string_view name, Dimension dimension) const;
  /// The same of what something is divided by: what is not above zero is as good as nothing.
  [[nodiscard]] const Parameter* divisor(std::string_view name, Dimension dimension) const;
  [[nodiscard]] const Table* table(std::string_view name) const;
  [[nodiscard]] const RuleSetting* rule(std::string_view id) const;
  [[nodiscard]] const DeclaredFact* fact(std::string_view name) const;
  /// REQUIRES: id < citations.size(), which no_citation is not.
  [[nodiscard]] const Citation& citation(CitationId id) const { return citations[id]; }
};

}  // namespace raceward
