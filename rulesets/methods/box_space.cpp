// Asks whether a box has room where the code counts insulated conductors.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { disconnect, conductors, allowed, stated, space, at_least, at_most, needed };
constexpr std::string_view figures[] = {"encloses-disconnect", "box-conductors",  "box-conductors-allowed",
                                        "box-space-stated",    "box-space",       "box-space-at-least",
                                        "box-space-at-most",   "box-space-needed"};
enum : std::uint32_t { too_many, too_small };
constexpr std::string_view messages[] = {
    "{where} counts as holding {detail}{measured} conductors, and a box of its size may hold {limit}",
    "{where} offers {measured}, and what is in it needs {detail}{limit}"};
enum : std::uint32_t { empty, enclosure };
constexpr std::string_view reasons[] = {
    "nothing in the box counts", "it is the enclosure of a disconnect, whose room its own standard sets"};

Verdict judge_room(const Context& c) {
  const Reading held = c.figure(conductors);
  if (!held) return Context::undetermined(held.missing);
  if (held.amount.count == 0) return Context::not_applicable(empty);
  // Where the law goes by a number of conductors, the number decides.
  const Reading number = c.figure(allowed);
  if (!number) return Context::undetermined(number.missing);
  if (number.amount.count != 0) return c.at_most(held, number, too_many);
  // A ring of unknown volume does not matter where the box suffices without it, nor what the wire connectors
  // join where it suffices, or does not, whatever that is.
  const Reading certain = c.figure(stated), most = c.figure(at_most), least = c.figure(at_least);
  if (certain && most && certain.amount.count >= most.amount.count) return Context::complies(certain, most);
  const Reading whole = c.figure(space);
  if (whole && least && whole.amount.count < least.amount.count)
    return Context::violates(too_small, whole, least);
  return c.at_least(whole, c.figure(needed), too_small);
}

Verdict judge(const Context& c) {
  const Reading is = c.figure(disconnect);
  if (is && is.amount.count != 0) return Context::not_applicable(enclosure);
  const Verdict room = judge_room(c);
  return room.outcome == Outcome::violates && !is ? Context::undetermined(is.missing) : room;
}

}  // namespace

extern const Rule box_space;
constexpr Rule box_space{
    .id = "box-space",
    .title = "A box has room for its insulated conductors, devices, fittings and wire connectors",
    .why = "Conductors forced into a box that is too small are nicked and overheat, and splices work loose.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Use a deeper or wider box, add an extension ring with a marked volume, or let fewer conductors stop "
        "here.",
    .unseen =
        "Terminal blocks; conductors no part of which leaves the box, and the wires of a luminaire on it, "
        "which do not count; barriers; whether the volume marked is the volume that is there.",
    .judge = judge,
};

}  // namespace raceward::methods
