// What a check says, as plain data. Reports are made from this and from nothing else.
#pragma once

#include <algorithm>
#include <cstdint>
#include <initializer_list>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "raceward/law.hpp"
#include "raceward/place.hpp"
#include "raceward/quantity.hpp"
#include "raceward/rule.hpp"
#include "raceward/subject.hpp"

namespace raceward {

/// A fact that is missing or contradictory, and where to write it.
struct Need {
  std::string fact;  ///< attribute or element, "trade-size"
  std::string
      datum;  ///< the same as documents write it: "raceway@trade-size", "support"; empty where none can
  std::string element;  ///< "raceway R3"
  std::string expects;  ///< unit or words expected, "a length such as 36in"
  std::string who;      ///< who could supply it, "the installer, with a tape measure"
  std::string why;      ///< empty for a plain absence; else the contradiction or ambiguity
  Place place;

  friend bool operator==(const Need& a, const Need& b) {
    return a.fact == b.fact && a.element == b.element && a.why == b.why;
  }
};

/// Citations, each once, in the order of first use. Findings that stand on the same share one list; copies
/// are cheap, and no list changes.
class CitationList {
 public:
  CitationList() = default;
  CitationList(std::vector<Citation> all)  // NOLINT(google-explicit-constructor): a list is its citations
      : all_(std::make_shared<const std::vector<Citation>>(std::move(all))) {}
  CitationList(std::initializer_list<Citation> all) : CitationList(std::vector<Citation>(all)) {}

  [[nodiscard]] std::size_t size() const { return all_ ? all_->size() : 0; }
  [[nodiscard]] bool empty() const { return size() == 0; }
  [[nodiscard]] const Citation* begin() const { return all_ ? all_->data() : nullptr; }
  [[nodiscard]] const Citation* end() const { return begin() + size(); }
  /// REQUIRES: i < size().
  const Citation& operator[](std::size_t i) const { return (*all_)[i]; }

  friend bool operator==(const CitationList& a, const CitationList& b) {
    return a.all_ == b.all_ || std::equal(a.begin(), a.end(), b.begin(), b.end());
  }

 private:
  std::shared_ptr<const std::vector<Citation>> all_;
};

/// A verdict worth reading.
struct Finding {
  enum class Kind : std::uint8_t { violates, undetermined, advised };
  std::string rule;
  Kind kind = Kind::violates;
  std::string subject;  ///< id of the element in the file, or of the derived subject ("section:B1:R3")
  std::string where;    ///< in words: "raceway R3, box B2 to box B4"
  Subject at;           ///< the same subject as rules know it, in the installation that was checked
  Place place;
  std::string message;
  CitationList cites;
  bool has_measured = false;
  Amount measured;
  bool has_limit = false;
  Amount limit;
  std::string measured_shown;  ///< rounded for reading, but never so far that it looks like the limit
  std::string limit_shown;
  std::vector<std::string> working;  ///< the arithmetic, a line a step, values put in
  std::vector<Need> needs;
  std::string cure;
  std::uint32_t waiver = 0;  ///< which of Report::waivers waives it, counted from 1; 0: none
  /// Findings of one rule with the same number say the same of several subjects: of one break, what lies
  /// behind it. Counted from 1; 0: no other finding is of its cause, or it is not told in words.
  std::uint32_t cause = 0;
  Place subject_place;  ///< of a finding that shares its cause: where its own subject stands

  /// Somebody has accepted it. Its verdict stays what it is.
  [[nodiscard]] bool waived() const { return waiver != 0; }
};

/// Counts of verdicts of one rule.
struct LedgerLine {
  std::string rule;
  std::string title;
  RuleSetting::Force force = RuleSetting::Force::required;
  std::uint64_t complies = 0;
  std::uint64_t violates = 0;
  std::uint64_t undetermined = 0;
  std::uint64_t not_applicable = 0;
  std::uint64_t waived = 0;    ///< of `violates`: how many a waiver accepts
  std::uint64_t advised = 0;   ///< of `violates`: how many others depart from what is advised only
  std::uint64_t faults = 0;    ///< of `undetermined`: how many because the rule went wrong, or was not asked
  std::uint64_t compared = 0;  ///< of `complies` and `violates`: how many compared a value with a limit
  std::uint64_t at_limit = 0;  ///< of `compared`: how many found the value to be the limit
};

/// An accepted deviation that the document states, and what became of it.
struct WaiverLine {
  enum class State : std::uint8_t {
    holds,         ///< it waives its finding
    expired,       ///< its last day is over
    not_yet,       ///< its first day is to come
    day_unknown,   ///< CheckOptions::on says no day
    exceeded,      ///< the finding is farther from the limit than was accepted
    undetermined,  ///< what it speaks of cannot be judged, and cannot be waived
    unmatched,     ///< there is no such finding
    unknown_rule   ///< there is no such rule
  };
  std::string rule;
  std::string subject;  ///< id, as Finding::subject
  std::string authority, reason;
  std::string on, until;  ///< first and last day: "2026-05-01"
  std::string accepts;    ///< "13ft", as it is written; empty: whatever is measured
  Place place;
  State state = State::unmatched;
  std::string why;  ///< why it has no effect, as a sentence; empty where it holds
};
/// "holds", "not-yet"
RACEWARD_API std::string_view name_of(WaiverLine::State state);

/// Something that was not checked, and why.
struct NotChecked {
  std::string what;  ///< "rule bend-radius", "attribute box@cover (12 times)", "element attest (3 times)"
  std::string why;
};

/// A named figure of one subject, for the `figures` command.
struct FigureLine {
  std::string subject;
  std::string where;
  std::string figure;
  bool known = false;
  Amount value;
  std::string shown;  ///< rounded for reading; empty where it is not known
  std::vector<std::string> working;
  std::vector<Citation> sources;
  std::vector<Need> needs;
};

/// Figures, and how many others there are that say nothing where they would stand.
struct FigureList {
  std::vector<FigureLine> lines;
  std::size_t left_out = 0;
};

/// Everything a check found. Findings are sorted by file place, then rule, then subject; nothing in it
/// depends on thread count or on the order of elements in memory.
struct Report {
  std::string installation;  ///< id of the installation
  std::string file;
  std::string ruleset;  ///< id
  std::vector<std::string> layers;
  std::vector<Finding> findings;
  std::vector<LedgerLine> ledger;  ///< sorted by rule
  std::string on;                  ///< the day on which waivers are judged; empty where the document has none
  std::vector<WaiverLine> waivers;  ///< in the order of the document
  std::vector<NotChecked> not_checked;
  std::vector<std::string> cautions;
  std::uint64_t element_count = 0;
};

}  // namespace raceward
