// Asks whether a box is large enough for what is in it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { disconnect, allowances, stated, volume, needed, needed_at_least };
constexpr std::string_view figures[] = {"encloses-disconnect", "box-allowances",
                                        "box-volume-stated",   "box-volume",
                                        "box-volume-needed",   "box-volume-needed-at-least"};
constexpr std::string_view messages[] = {
    "{where} offers {measured}, and what is in it needs {detail}{limit}"};
enum : std::uint32_t { empty, enclosure };
constexpr std::string_view reasons[] = {
    "nothing in the box takes an allowance of volume",
    "it is the enclosure of a disconnect, whose room its own standard sets"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(disconnect);
  if (is && is.amount.count != 0) return Context::not_applicable(enclosure);
  const Reading held = c.figure(allowances);
  if (held && held.amount.count == 0) return Context::not_applicable(empty);
  const Reading asked = c.figure(needed);
  // A ring of unknown volume does not matter where the box suffices without it.
  const Reading certain = c.figure(stated);
  if (asked && certain && certain.amount.count >= asked.amount.count)
    return Context::complies(certain, asked);
  // What is missing can only ask for more room; an enclosure of a disconnect is asked for none.
  const Reading whole = c.figure(volume), least = c.figure(needed_at_least);
  const bool fails = whole && least && whole.amount.count < least.amount.count;
  if (!is)
    return Context::undetermined(fails ? is.missing : c.both(is.missing, c.at_least(whole, asked).missing));
  if (fails) return Context::violates(0, whole, least);
  return c.at_least(whole, asked);
}

}  // namespace

extern const Rule box_volume;
constexpr Rule box_volume{
    .id = "box-volume",
    .title = "A box is large enough for its conductors, devices, clamps and fittings",
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
        "Fittings that the code counts and the document has no word for; room in the canopies of luminaires; "
        "whether the volume marked is the volume that is there.",
    .judge = judge,
};

}  // namespace raceward::methods
