// Asks whether the overcurrent devices of a panel find room in it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { taken, spaces, poles_taken, poles };
constexpr std::string_view figures[] = {"panel-spaces-taken", "panel-spaces", "panel-poles-taken",
                                        "panel-poles"};
constexpr std::string_view messages[] = {
    "the overcurrent devices of {where} take {measured} spaces, and it has {limit}",
    "the overcurrent devices of {where} have {measured} poles, and it is listed for {limit}"};

Verdict judge(const Context& c) {
  const Verdict room = c.at_most(taken, spaces);
  if (room.outcome == Outcome::violates) return room;
  const Reading held = c.figure(poles_taken);
  if (held && held.amount.count == 0) return room;
  const Verdict listed = c.at_most(poles_taken, poles, 1);
  if (listed.outcome == Outcome::violates || room.outcome == Outcome::complies) return listed;
  if (listed.outcome == Outcome::complies) return room;
  return Context::undetermined(c.both(room.missing, listed.missing));
}

}  // namespace

extern const Rule panel_spaces;
constexpr Rule panel_spaces{
    .id = "panel-spaces",
    .title = "A panel holds no more overcurrent devices than it has spaces",
    .why =
        "Doubled breakers in a panel not made for them overload its buses and leave no room for the wires.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Take a larger panel, or feed a second one from it.",
    .unseen = "Which of its spaces take overcurrent devices of half a space.",
    .judge = judge,
};

}  // namespace raceward::methods
