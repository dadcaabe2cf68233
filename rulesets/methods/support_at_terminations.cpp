// Asks whether a raceway is fastened near each of its ends.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { buried, fastenings, distance, distance_limit, length, unsupported };
constexpr std::string_view figures[] = {"lies-in-earth",     "fastenings",     "end-support-distance",
                                        "end-support-limit", "raceway-length", "unsupported-length-limit"};
enum : std::uint32_t { too_far, too_long, unfastened, nowhere };
constexpr std::string_view messages[] = {
    "{where} is first fastened {measured} from {detail}, and at most {limit} is allowed",
    "{where} is {measured} long without any fastening, and at most {limit} is allowed",
    "{where} is fastened nowhere in its {measured}, and within {limit} of each end is required",
    "{where} is fastened nowhere, and no exception for its type allows that"};

constexpr std::string_view reasons[] = {"it lies in earth, which carries it"};

Verdict judge(const Context& c) {
  const Reading below = c.figure(buried);
  if (!below) return Context::undetermined(below.missing);
  if (below.amount.count != 0) return Context::not_applicable();
  const Reading held = c.figure(fastenings);
  const bool none = held && held.amount.count == 0;
  Verdict near = Context::undetermined(held.missing);
  if (held && !none) near = c.at_most(distance, distance_limit, too_far);
  if (near.outcome == Outcome::complies) return near;

  // A short raceway of some types needs no support at all, whatever it has.
  const Reading free = c.figure(unsupported), whole = c.figure(length);
  if (free && whole && whole.amount.count <= free.amount.count) return Context::complies(whole, free);
  if (!none) {
    const bool may_be_free = near.outcome == Outcome::violates && !free;
    return may_be_free ? Context::undetermined(free.missing) : near;
  }
  if (free && free.amount.count == 0) {
    const Reading within = c.figure(distance_limit);
    return whole && within ? Context::violates(unfastened, whole, within) : Context::violates(nowhere, held);
  }
  return c.at_most(whole, free, too_long);
}

}  // namespace

extern const Rule support_at_terminations;
constexpr Rule support_at_terminations{
    .id = "support-at-terminations",
    .title = "A raceway is fastened near each box, panel or other end",
    .why =
        "Without a fastening near its end, a raceway works its connector loose, and with it the grounding "
        "path.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Fasten the raceway within the distance from each end.",
    .unseen =
        "Whether a support holds: its kind, its screws, what it is fastened to; whether a box is itself "
        "held; what of a buried raceway stands above ground, unless it is a raceway of its own.",
    .judge = judge,
};

}  // namespace raceward::methods
