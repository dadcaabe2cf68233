// Asks whether the secondary conductors of a transformer are short and large enough to have no overcurrent
// device where they begin.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { is_one, by_primary, length, most, ampacity, needed };
constexpr std::string_view figures[] = {"is-transformer",     "secondary-by-primary",
                                        "secondary-length",   "secondary-length-limit",
                                        "secondary-ampacity", "secondary-ampacity-needed"};
enum : std::uint32_t { too_long, too_small };
constexpr std::string_view messages[] = {
    "the secondary conductors of {where} are {measured} long in raceways alone, and at most {limit} is "
    "allowed{detail}",
    "the secondary conductors of {where} carry {measured}, and must carry {limit}"};
constexpr std::string_view reasons[] = {"it is no transformer"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(is_one);
  if (!is) return Context::undetermined(is.missing);
  if (is.amount.count == 0) return Context::not_applicable();
  const Reading primary = c.figure(by_primary);
  if (primary && primary.amount.count != 0) return Context::complies();
  const Verdict short_enough = c.at_most(length, most, too_long);
  const Verdict large_enough = c.at_least(ampacity, needed, too_small);
  const bool fails = short_enough.outcome == Outcome::violates || large_enough.outcome == Outcome::violates;
  if (fails && !primary) return Context::undetermined(primary.missing);
  if (short_enough.outcome == Outcome::violates) return short_enough;
  if (large_enough.outcome == Outcome::violates || short_enough.outcome == Outcome::complies)
    return large_enough;
  return large_enough.outcome == Outcome::complies
             ? short_enough
             : Context::undetermined(c.both(short_enough.missing, large_enough.missing));
}

}  // namespace

extern const Rule secondary_conductors;
constexpr Rule secondary_conductors{
    .id = "secondary-conductors",
    .title = "Secondary conductors of a transformer are short and large enough for the device at their end",
    .why =
        "Nothing ahead of them sees an overload of theirs, and a fault on them little but what the "
        "transformer "
        "passes on: they must be hard to hurt, and what they carry must be set by the device where they end.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use larger conductors, or put an overcurrent device nearer to the transformer.",
    .unseen =
        "How raceways guard them; several overcurrent devices in place of a main; transformers that are on "
        "taps themselves; the grounded conductor; for those outdoors, all but their ampacity.",
    .judge = judge,
};

}  // namespace raceward::methods
