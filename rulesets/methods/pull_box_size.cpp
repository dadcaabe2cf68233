// Asks whether a box or conduit body is large enough to pull large conductors through it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { written, disconnect, pulls, has, asks, marked };
constexpr std::string_view figures[] = {"boxes-written",  "encloses-disconnect",   "large-pulls",
                                        "pull-dimension", "pull-dimension-needed", "marked-for-conductors"};
constexpr std::string_view messages[] = {
    "{where} measures {measured} in the direction of a pull that needs {limit}"};
enum : std::uint32_t { none_pass, no_box, enclosure, listed };
constexpr std::string_view reasons[] = {
    "no large conductors pass or end here", "panels, equipment and joints are no pull boxes",
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

extern const Rule pull_box_size;
constexpr Rule pull_box_size{
    .id = "pull-box-size",
    .title = "A box or conduit body leaves large conductors the length that straight, angle and U pulls need",
    .why = "Large conductors bent or dragged in too short a space lose insulation where nobody sees it.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a longer box, smaller raceways, or move the entries to other walls or rows.",
    .unseen =
        "Entries opposite the cover, which are undetermined; what a box is marked for, beyond the word that "
        "it suffices.",
    .judge = judge,
};

}  // namespace raceward::methods
