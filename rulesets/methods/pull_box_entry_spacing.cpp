// Asks whether the two entries of the same large conductors are far enough apart.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { written, disconnect, pulls, has, asks, marked };
constexpr std::string_view figures[] = {"boxes-written", "encloses-disconnect",  "angle-pulls",
                                        "entry-spacing", "entry-spacing-needed", "marked-for-conductors"};
constexpr std::string_view messages[] = {
    "{where}: the entries of the same conductors are {measured} apart, and {limit} is needed"};
enum : std::uint32_t { none_pass, no_box, enclosure, listed };
constexpr std::string_view reasons[] = {
    "no large conductors turn here", "panels, equipment and joints are no pull boxes",
    "it is the enclosure of a disconnect, whose room its own standard sets",
    "it is listed for and marked with the conductors that it holds"};

Verdict judge(const Context& c) {
  const Reading box = c.figure(written), is = c.figure(disconnect);
  if (box && box.amount.count == 0) return Context::not_applicable(no_box);
  if (is && is.amount.count != 0) return Context::not_applicable(enclosure);
  const Reading count = c.figure(pulls);
  if (count && count.amount.count == 0) return Context::not_applicable(none_pass);
  if (!box) return Context::undetermined(box.missing);
  if (!count) return Context::undetermined(count.missing);
  const Verdict room = c.at_least(has, asks);
  if (room.outcome == Outcome::complies) return room;
  const Reading holds = c.figure(marked);
  if (holds && holds.amount.count != 0) return Context::not_applicable(listed);
  if (room.outcome != Outcome::violates || (is && holds)) return room;
  return Context::undetermined(c.both(is.missing, holds.missing));
}

}  // namespace

extern const Rule pull_box_entry_spacing;
constexpr Rule pull_box_entry_spacing{
    .id = "pull-box-entry-spacing",
    .title =
        "The two raceway entries of the same large conductors are far enough apart in an angle or U pull",
    .why = "Entries too close together force a bend that the conductors cannot take without damage.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Move one entry further along its wall, or use a larger box.",
    .unseen =
        "Which entry conductors leave by that are spliced in the box: they are taken to belong to both.",
    .judge = judge,
};

}  // namespace raceward::methods
