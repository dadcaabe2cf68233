// Asks how much of a circuit's voltage is lost on the way, by itself and with the feeders ahead of it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t {
  wiring,
  own,
  own_at_most,
  own_at_least,
  own_limit,
  total,
  total_at_most,
  total_at_least,
  total_limit,
  load
};
constexpr std::string_view figures[] = {"circuit-is-wiring",          "voltage-drop",
                                        "voltage-drop-at-most",       "voltage-drop-at-least",
                                        "voltage-drop-limit",         "voltage-drop-total",
                                        "voltage-drop-total-at-most", "voltage-drop-total-at-least",
                                        "voltage-drop-total-limit",   "circuit-load"};
enum : std::uint32_t { much, much_in_all };
constexpr std::string_view messages[] = {
    "on the way to {place}, {where} loses {measured} of its voltage with its whole load there; the limit "
    "is {limit}",
    "on the way to {place}, {where} and the feeders ahead of it lose {measured} of the voltage; the limit "
    "is {limit}"};
constexpr std::string_view reasons[] = {"it is wiring outside any circuit, or has no load"};

/// Where to find a drop, its bounds and its limit.
struct Asked {
  std::uint32_t drop, at_most, at_least, limit, message;
};

Verdict judge_one(const Context& c, const Asked& asked) {
  const Reading exact = c.figure(asked.drop);
  if (exact) return c.at_most(exact, c.figure(asked.limit), asked.message);
  const Verdict best = c.at_most(asked.at_least, asked.limit, asked.message);
  if (best.outcome != Outcome::complies) return best;
  const Verdict worst = c.at_most(asked.at_most, asked.limit, asked.message);
  return worst.outcome == Outcome::complies ? worst : Context::undetermined(exact.missing);
}

Verdict judge(const Context& c) {
  const Reading outside = c.figure(wiring), current = c.figure(load);
  if (outside && outside.amount.count != 0) return Context::not_applicable();
  if (current && current.amount.count == 0) return Context::not_applicable();
  const Verdict alone = judge_one(c, {own, own_at_most, own_at_least, own_limit, much});
  if (alone.outcome == Outcome::violates) return alone;
  const Verdict together = judge_one(c, {total, total_at_most, total_at_least, total_limit, much_in_all});
  if (together.outcome == Outcome::violates || alone.outcome == Outcome::complies) return together;
  return together.outcome == Outcome::undetermined
             ? Context::undetermined(c.both(alone.missing, together.missing))
             : alone;
}

}  // namespace

extern const Rule voltage_drop;
constexpr Rule voltage_drop{
    .id = "voltage-drop",
    .title = "Little of a circuit's voltage is lost on the way to its farthest outlet",
    .why =
        "With too little voltage motors run hot and start badly, heaters heat less and lights go dim. It is "
        "advice: the code does not require it.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull larger conductors, or set the panel nearer. Grounding conductors grow with the ungrounded "
        "ones.",
    .unseen =
        "Loads spread along the circuit: the whole load is taken to be at the farthest place. Feeders and "
        "services outside the document; conductors hotter or cooler than 75 C; motors starting; the ways "
        "inside boxes and panels.",
    .judge = judge,
};

}  // namespace raceward::methods
