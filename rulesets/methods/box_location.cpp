// Asks whether a box in a damp or wet place keeps water out.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, suits };
constexpr std::string_view figures[] = {"box-location-asked", "box-suits-location"};
constexpr std::string_view messages[] = {"{where} is in a wet place and is not listed for one"};
constexpr std::string_view reasons[] = {"it is in a dry place"};

Verdict judge(const Context& c) { return c.provides(asked, suits); }

}  // namespace

extern const Rule box_location;
constexpr Rule box_location{
    .id = "box-location",
    .title = "A box in a wet place is listed for it, and one in a damp place keeps moisture out",
    .why = "Water in a box rots splices and brings its cover to life.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a box and a cover that are listed for wet locations.",
    .unseen = "Conduit bodies, panels and equipment; covers and hoods; openings that are not sealed.",
    .judge = judge,
};

}  // namespace raceward::methods
