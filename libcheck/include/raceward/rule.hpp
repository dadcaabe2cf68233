// The interface that every rule is written against, ours and an outsider's alike.
//
//   // Finds raceways filled beyond the limit for their number of conductors.
//   #include <raceward/rule.hpp>
//   namespace {
//   using namespace raceward;
//   enum : std::uint32_t { fill, limit };
//   constexpr std::string_view figures[] = {"raceway-fill", "raceway-fill-limit"};
//   Verdict judge(const Context& c) { return c.at_most(fill, limit); }
//   }
//   extern const Rule raceway_fill;
//   const Rule raceway_fill{.id = "raceway-fill", ..., .figures = figures, .judge = judge};
//
// all_figures() of engine.hpp lists the figures with what they are about and their units; docs/figures tells
// how each is computed. The law puts a rule in force: <uses rule="raceway-fill"> in a layer, or Law::rules.
//
// A rule is a value without state. It sees figures and parameters of one subject at a time, by the positions
// in its own lists; it never sees the document, the reports or another rule. Judging allocates nothing unless
// the verdict is worth reading. A rule may be called from several threads at once.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "raceward/export.h"
#include "raceward/law.hpp"
#include "raceward/quantity.hpp"
#include "raceward/subject.hpp"

namespace raceward {

enum class Outcome : std::uint8_t { complies, violates, undetermined, not_applicable };
RACEWARD_API std::string_view name_of(Outcome outcome);

/// Index of a set of missing facts that the engine keeps; 0 means that nothing is missing.
using MissingId = std::uint32_t;

/// A figure as a rule sees it: a value, or the facts that are missing for it.
struct Reading {
  Amount amount;  ///< its unit is how reports show it, and may be changed to another one of its dimension
  MissingId missing = 0;
  CitationId cite = no_citation;  ///< the row or parameter that the value was taken from, if any
  Subject place;                  ///< the element that the value is about, e.g. the support after a gap

  explicit operator bool() const { return missing == 0; }
};

/// What a rule says of one subject. Made by the functions of Context.
struct Verdict {
  Outcome outcome = Outcome::undetermined;
  std::uint32_t message = 0;  ///< position in Rule::messages (violates) or a reason (not_applicable)
  bool has_measured = false;
  bool has_limit = false;
  Reading measured;
  Reading limit;
  MissingId missing = 0;
};

/// What the engine shows a rule of one subject.
class RACEWARD_API Context {
 public:
  Context(const Context&) = delete;
  Context& operator=(const Context&) = delete;

  [[nodiscard]] virtual Subject subject() const = 0;
  /// The figure at that position of Rule::figures, for the subject. A position out of range, or a figure that
  /// does not belong to this kind of subject, reads as missing and is reported as the rule's fault.
  [[nodiscard]] virtual Reading figure(std::uint32_t position) const = 0;
  /// The parameter at that position of Rule::parameters. It is a number: a rule that reads one which the law
  /// sets as a word is not asked.
  [[nodiscard]] virtual Reading parameter(std::uint32_t position) const = 0;
  /// Both sets of missing facts together.
  [[nodiscard]] virtual MissingId both(MissingId a, MissingId b) const = 0;

  /// Complies where measured <= limit. Undetermined where either is missing; where they are of two dimensions
  /// too, and then it is reported as the rule's fault. `message` is a position in Rule::messages, used where
  /// it violates.
  [[nodiscard]] Verdict at_most(const Reading& measured, const Reading& limit,
                                std::uint32_t message = 0) const;
  [[nodiscard]] Verdict at_least(const Reading& measured, const Reading& limit,
                                 std::uint32_t message = 0) const;
  [[nodiscard]] Verdict at_most(std::uint32_t measured, std::uint32_t limit, std::uint32_t message = 0) const;
  [[nodiscard]] Verdict at_least(std::uint32_t measured, std::uint32_t limit,
                                 std::uint32_t message = 0) const;
  /// For a figure that is 1 where something holds and 0 where it does not: complies where it is not 0.
  [[nodiscard]] Verdict holds(std::uint32_t figure, std::uint32_t message = 0) const;
  /// For two figures that are 1 or 0: not applicable where the first is 0; else complies where the second is
  /// 1, though it be unknown whether it is asked for.
  [[nodiscard]] Verdict provides(std::uint32_t asked, std::uint32_t given, std::uint32_t message = 0) const;

  [[nodiscard]] static Verdict complies();
  [[nodiscard]] static Verdict complies(const Reading& measured, const Reading& limit);
  [[nodiscard]] static Verdict violates(std::uint32_t message, const Reading& measured, const Reading& limit);
  [[nodiscard]] static Verdict violates(std::uint32_t message, const Reading& measured);
  [[nodiscard]] static Verdict undetermined(MissingId missing);
  /// `reason` is a position in Rule::reasons.
  [[nodiscard]] static Verdict not_applicable(std::uint32_t reason = 0);

 protected:
  Context() = default;
  ~Context() = default;
};

class CompiledRule;

/// A rule: what it asks, of what, and how it judges. All texts are for people. They and the lists are not
/// copied: they live as long as the rule is used, best as constants. What `judge` throws is reported as the
/// rule's fault.
struct Rule {
  std::string_view id;     ///< by what is asked, never a clause number: "raceway-fill"
  std::string_view title;  ///< one sentence: what must hold
  std::string_view why;    ///< one or two sentences: what goes wrong otherwise
  SubjectKind subject = SubjectKind::installation;
  std::span<const std::string_view> figures;     ///< names of the figures it reads
  std::span<const std::string_view> parameters;  ///< names of the parameters it reads
  /// Sentences for *violates*; {where}, {measured}, {limit}, {place} (the element that the measured value is
  /// about) and {detail} (what its figure says of it, such as the sizes that it compared) are filled in.
  std::span<const std::string_view> messages;
  /// Sentences for *not applicable*.
  std::span<const std::string_view> reasons;
  /// What would cure it, in words. Remedies that were tried are another matter.
  std::string_view cure;
  /// For its page: what a reader might expect of it and it does not judge.
  std::string_view unseen{};
  Verdict (*judge)(const Context&) = nullptr;
  /// Of a rule of a compiled module, what asks it in the place of `judge`; load_module sets it.
  const CompiledRule* compiled = nullptr;
};

/// A length told in feet where it would be told in inches; others, such as metric ones, stay as they are.
inline Reading in_feet(Reading length) {
  if (length.amount.unit == Unit::inch) length.amount.unit = Unit::foot;
  return length;
}

// How verdicts are made, for every rule alike; here, because modules bring it with them.

namespace detail {
inline bool comparable(const Reading& a, const Reading& b) {
  return a.amount.unit == b.amount.unit || dimension_of(a.amount.unit) == dimension_of(b.amount.unit);
}
inline Verdict compared(bool holds, std::uint32_t message, const Reading& measured, const Reading& limit) {
  return holds ? Context::complies(measured, limit) : Context::violates(message, measured, limit);
}
}  // namespace detail

inline Verdict Context::at_most(const Reading& measured, const Reading& limit, std::uint32_t message) const {
  if (!measured || !limit) return undetermined(both(measured.missing, limit.missing));
  if (!detail::comparable(measured, limit)) return Verdict{};  // a fault of the rule
  return detail::compared(measured.amount.count <= limit.amount.count, message, measured, limit);
}

inline Verdict Context::at_least(const Reading& measured, const Reading& limit, std::uint32_t message) const {
  if (!measured || !limit) return undetermined(both(measured.missing, limit.missing));
  if (!detail::comparable(measured, limit)) return Verdict{};  // a fault of the rule
  return detail::compared(measured.amount.count >= limit.amount.count, message, measured, limit);
}

inline Verdict Context::at_most(std::uint32_t measured, std::uint32_t limit, std::uint32_t message) const {
  // One after the other: the working is told in this order, whatever the compiler.
  const Reading first = figure(measured);
  return at_most(first, figure(limit), message);
}

inline Verdict Context::at_least(std::uint32_t measured, std::uint32_t limit, std::uint32_t message) const {
  // One after the other: the working is told in this order, whatever the compiler.
  const Reading first = figure(measured);
  return at_least(first, figure(limit), message);
}

inline Verdict Context::holds(std::uint32_t position, std::uint32_t message) const {
  const Reading fact = figure(position);
  if (!fact) return undetermined(fact.missing);
  return fact.amount.count != 0 ? complies() : violates(message, fact);
}

inline Verdict Context::provides(std::uint32_t asked, std::uint32_t given, std::uint32_t message) const {
  const Reading wanted = figure(asked);
  if (wanted && wanted.amount.count == 0) return not_applicable();
  const Reading fact = figure(given);
  if (fact && fact.amount.count != 0) return complies();
  if (!wanted || !fact) return undetermined(both(wanted.missing, fact.missing));
  return violates(message, fact);
}

inline Verdict Context::complies() {
  Verdict v;
  v.outcome = Outcome::complies;
  return v;
}

inline Verdict Context::complies(const Reading& measured, const Reading& limit) {
  Verdict v;
  v.outcome = Outcome::complies;
  v.has_measured = v.has_limit = true;
  v.measured = measured;
  v.limit = limit;
  return v;
}

inline Verdict Context::violates(std::uint32_t message, const Reading& measured, const Reading& limit) {
  Verdict v = complies(measured, limit);
  v.outcome = Outcome::violates;
  v.message = message;
  return v;
}

inline Verdict Context::violates(std::uint32_t message, const Reading& measured) {
  Verdict v;
  v.outcome = Outcome::violates;
  v.message = message;
  v.has_measured = true;
  v.measured = measured;
  return v;
}

inline Verdict Context::undetermined(MissingId missing) {
  Verdict v;
  v.outcome = Outcome::undetermined;
  v.missing = missing;
  return v;
}

inline Verdict Context::not_applicable(std::uint32_t reason) {
  Verdict v;
  v.outcome = Outcome::not_applicable;
  v.message = reason;
  return v;
}

}  // namespace raceward
