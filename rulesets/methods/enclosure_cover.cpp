// Asks whether every box and conduit body is covered.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, on };
constexpr std::string_view figures[] = {"cover-asked", "cover-on"};
constexpr std::string_view messages[] = {"{where} has no cover"};
constexpr std::string_view reasons[] = {"panels and equipment are closed by their own doors and covers"};

Verdict judge(const Context& c) { return c.provides(asked, on); }

}  // namespace

extern const Rule enclosure_cover;
constexpr Rule enclosure_cover{
    .id = "enclosure-cover",
    .title = "Every box and conduit body has a cover, faceplate, canopy or the like",
    .why = "An open box lets fingers in, sparks out, and dust and damp onto splices.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put on a cover made for the box: a blank one where nothing is mounted in it.",
    .unseen = "Whether the cover fits its box and is itself grounded; panels and equipment.",
    .judge = judge,
};

}  // namespace raceward::methods
