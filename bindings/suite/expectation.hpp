// What an author expects of an installation: sentences in comments of the document, in a file beside it, or
// in a file for all documents of a folder.
//
//   under: nec-2023 city/layer.xml
//   between: nec-2023 layer.xml
//   expect: violates raceway-fill R2 measured="43.1 %" limit="40 %"
//   expect under nec-2023: undetermined raceway-fill R2 needs="raceway@trade-size support"
//   ledger: raceway-fill complies=3 not-applicable=1
//   figure: raceway-fill R2 43.1 %
//   disregard: undetermined * *
//   on: 2026-05-01
//   expect: waived support-spacing R1
//   waiver: expired support-spacing R2
//
// Subjects are ids as reports give them. docs/suites.md tells what each means. What is found and neither
// expected nor disregarded fails a case, as does what is expected and not found.
#pragma once

#include <cstdint>
#include <map>
#include <raceward/engine.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace raceward::suite {

/// A finding that must be there, or may. Texts that are empty are not compared.
struct Expectation {
  std::string kind;  ///< violates, advised or undetermined; or waived, whichever of the first two it is
  std::string rule;
  std::string subject;
  std::string measured, limit;     ///< "43.1 %": compared in its unit, rounded as far as it is written
  std::string needs;               ///< the missing facts, sorted, with blanks between
  std::string cites;               ///< what the finding must cite among others: "NFPA 70-2023 352.44"
  std::vector<std::string> under;  ///< rulesets; empty: under each
  Place place;
};

/// Counts of verdicts that a rule must have.
struct LedgerExpectation {
  std::string rule;
  std::map<std::string, std::uint64_t> counts;  ///< by complies, violates, undetermined, not-applicable
  std::vector<std::string> under;
  Place place;
};

/// A figure that must have a value, or be missing something.
struct FigureExpectation {
  std::string figure, subject;
  std::string value;  ///< "43.1 %", or "undetermined"
  std::vector<std::string> under;
  Place place;
};

/// A waiver of the document that must have no effect, and why.
struct WaiverExpectation {
  std::string state;  ///< as reports name it: "expired"
  std::string rule, subject;
  std::vector<std::string> under;
  Place place;
};

struct Expectations {
  std::vector<std::string> under;  ///< rulesets as they are written; empty: what the document adopts
  Place under_at{};                ///< where they are; no file where they are not
  bool between = false;            ///< of two rulesets only what they find differently counts
  std::vector<Expectation> findings;
  std::vector<Expectation> disregarded;  ///< kind, rule and subject only, each maybe *
  std::vector<LedgerExpectation> ledger;
  std::vector<FigureExpectation> figures;
  std::vector<WaiverExpectation> waivers;
  std::string on;                 ///< the day that waivers are judged on; empty: none, and no waiver holds
  std::vector<Problem> problems;  ///< what cannot be read, is said twice, or contradicts itself
};

/// Reads the comments of a document. What is no XML has no comments; loading it tells why.
void read_comments(std::string_view document, const std::string& name, Expectations& out);
/// Reads a file of sentences, one a line; lines that begin with # are remarks.
void read_sentences(std::string_view text, const std::string& name, Expectations& out);
/// To call when all is read: finds what was said twice, and rulesets that are not judged under.
void settle(Expectations& out);

/// Whether it is expected under that ruleset, named as in `under`.
template <class Expected>
bool holds_under(const Expected& expected, std::string_view ruleset) {
  for (const std::string& id : expected.under) {
    if (id == ruleset) return true;
  }
  return expected.under.empty();
}

/// Whether a finding need not be expected.
bool disregards(const Expectations& all, const Finding& found, std::string_view ruleset);

/// "NFPA 70-2023 352.44"
std::string text_of(const Citation& citation);

/// What a finding says that the expectation says otherwise; empty where they agree. REQUIRES: same rule and
/// subject.
std::string difference(const Expectation& expected, const Finding& found);

/// The same of a figure.
std::string difference(const FigureExpectation& expected, const FigureLine& found);

/// "violates", "undetermined", "advised"; "waived" of what a waiver accepts
std::string_view kind_of(const Finding& found);
/// "violates raceway-fill R2"
std::string key_of(const Expectation& expected);
std::string key_of(const Finding& found);
/// The sentence that expects this finding: "expect under nec-2023: violates raceway-fill R2 measured=..."
std::string sentence_of(const Finding& found, std::string_view ruleset);
/// The same of a waiver: "waiver expired support-spacing R2", and the sentence.
std::string key_of(const WaiverExpectation& expected);
std::string key_of(const WaiverLine& found);
std::string sentence_of(const WaiverLine& found, std::string_view ruleset);

}  // namespace raceward::suite
