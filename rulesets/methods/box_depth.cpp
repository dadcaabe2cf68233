// Asks whether a box is deep enough for what is set into it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { depth, needed };
constexpr std::string_view figures[] = {"box-depth", "box-depth-needed"};
constexpr std::string_view messages[] = {"{where} is {measured} deep inside, and needs {limit}"};

Verdict judge(const Context& c) { return c.at_least(depth, needed); }

}  // namespace

extern const Rule box_depth;
constexpr Rule box_depth{
    .id = "box-depth",
    .title = "A box is deep enough for the deepest device in it",
    .why = "A device that is forced into a shallow box crushes the wires behind it.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Use a deeper box, or a ring that makes it deeper.",
    .unseen =
        "The depth that large conductors on a device ask for; luminaires and other things before the box.",
    .judge = judge,
};

}  // namespace raceward::methods
