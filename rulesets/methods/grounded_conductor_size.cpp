// Asks whether grounded conductors that are smaller than the ungrounded ones are large enough.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wiring, grounded, smaller, shortfall, carries, needed, otherwise };
constexpr std::string_view figures[] = {"circuit-is-wiring",  "grounded-conductors", "smaller-grounded",
                                        "grounded-shortfall", "grounded-carries",    "grounded-needed",
                                        "protected-otherwise"};
enum : std::uint32_t { too_small, carries_too_little };
constexpr std::string_view messages[] = {
    "{place} is {detail} of the grounded conductor of {where}",
    "{place} is good for {measured}, and {where} may bring its grounded conductor {limit}"};
enum : std::uint32_t { no_circuit, none_there };
constexpr std::string_view reasons[] = {"it is wiring outside any circuit", "it has no grounded conductor"};

/// Of one that is smaller than the ungrounded conductors, or may be.
Verdict by_itself(const Context& c) {
  const Reading sizes = c.figure(shortfall);
  if (sizes && sizes.amount.count > 0) return Context::violates(too_small, sizes);
  const Reading least = c.figure(needed);
  if (least && least.amount.count == 0)  // its size alone decides
    return sizes ? Context::complies() : Context::undetermined(sizes.missing);
  const Verdict held = c.at_least(c.figure(carries), least, carries_too_little);
  if (held.outcome == Outcome::violates || sizes) return held;
  return Context::undetermined(c.both(sizes.missing, held.missing));
}

Verdict judge(const Context& c) {
  const Reading outside = c.figure(wiring);
  if (outside && outside.amount.count != 0) return Context::not_applicable(no_circuit);
  const Reading there = c.figure(grounded), less = c.figure(smaller);
  if (there && there.amount.count == 0) return Context::not_applicable(none_there);
  const bool as_large = less && less.amount.count == 0;
  const Verdict verdict = as_large ? Context::complies() : by_itself(c);
  if (verdict.outcome == Outcome::complies) return there ? verdict : Context::undetermined(there.missing);
  const Reading other = c.figure(otherwise);
  const MissingId open = c.both(less.missing, other.missing);
  if (verdict.outcome == Outcome::undetermined) return Context::undetermined(c.both(verdict.missing, open));
  return open != 0 ? Context::undetermined(open) : verdict;
}

}  // namespace

extern const Rule grounded_conductor_size;
constexpr Rule grounded_conductor_size{
    .id = "grounded-conductor-size",
    .title = "A grounded conductor is large enough for what its circuit may bring it",
    .why =
        "It carries the current back, and nothing opens when it alone is overloaded: one that is too small "
        "runs hot for as long as the load is on.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull a grounded conductor as large as the ungrounded ones, or put in an overcurrent device that the "
        "smaller one allows.",
    .unseen =
        "Harmonic currents, which may make it carry more than the others; grounded conductors that several "
        "circuits share; those of services and of the secondary side of transformers; conductors inside "
        "cables.",
    .judge = judge,
};

}  // namespace raceward::methods
