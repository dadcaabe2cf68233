// Asks whether every box, conduit body and panel is covered.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, on };
constexpr std::string_view figures[] = {"cover-asked", "cover-on"};
constexpr std::string_view messages[] = {"{where} has no cover"};
constexpr std::string_view reasons[] = {"equipment is closed by its own doors and covers"};

Verdict judge(const Context& c) { return c.provides(asked, on); }

}  // namespace

extern const Rule enclosure_cover;
constexpr Rule enclosure_cover{
    .id = "enclosure-cover",
    .title = "Every box, conduit body and panel has a cover, faceplate, canopy or the like",
    .why = "An open box lets fingers in, sparks out, and dust and damp onto splices.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put on a cover made for the box, a blank one where nothing is mounted in it; on a panel its front.",
    .unseen = "Whether the cover fits its box and is itself grounded; equipment.",
    .judge = judge,
};

}  // namespace raceward::methods
