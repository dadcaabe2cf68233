// Asks whether the supports of a raceway stand close enough to each other.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { buried, count, gap, gap_at_least, gap_limit, length, unsupported };
constexpr std::string_view figures[] = {"lies-in-earth",           "support-count",     "support-gap",
                                        "support-gap-at-least",    "support-gap-limit", "raceway-length",
                                        "unsupported-length-limit"};
constexpr std::string_view messages[] = {
    "{where} hangs free for {measured}, {detail}, and at most {limit} is allowed"};
enum : std::uint32_t { in_earth, few };
constexpr std::string_view reasons[] = {"it lies in earth, which carries it",
                                        "fewer than two supports: securing at the ends is what is asked"};

Verdict judge(const Context& c) {
  const Reading below = c.figure(buried);
  if (!below) return Context::undetermined(below.missing);
  if (below.amount.count != 0) return Context::not_applicable(in_earth);
  const Reading held = c.figure(count);
  if (held && held.amount.count <= number(1).count()) return Context::not_applicable(few);
  const Verdict apart = held ? c.at_most(gap, gap_limit) : Context::undetermined(held.missing);
  if (apart.outcome == Outcome::complies) return apart;
  // A short raceway of some types needs no support at all.
  const Reading free = c.figure(unsupported), whole = c.figure(length);
  if (free && whole && whole.amount.count <= free.amount.count) return Context::complies(whole, free);
  // What lies beyond a joint can only make the gap wider.
  const Reading known = c.figure(gap_at_least), most = c.figure(gap_limit);
  if (held && free && known && most && known.amount.count > most.amount.count)
    return Context::violates(0, known, most);
  if (apart.outcome == Outcome::violates && !free) return Context::undetermined(free.missing);
  return apart;
}

}  // namespace

extern const Rule support_spacing;
constexpr Rule support_spacing{
    .id = "support-spacing",
    .title = "The supports of a raceway are no farther apart than its type and size allow",
    .why = "A raceway that sags pulls its couplings and connectors apart, and with them the grounding path.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Add a support within the gap.",
    .unseen =
        "Whether a support holds: its kind, its screws, what it is fastened to. Expansion of nonmetallic "
        "raceways. What of a buried raceway stands above ground, unless it is a raceway of its own.",
    .judge = judge,
};

}  // namespace raceward::methods
