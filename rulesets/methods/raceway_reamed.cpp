// Asks whether the cut ends of a raceway are free of sharp edges.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, reamed };
constexpr std::string_view figures[] = {"reaming-asked", "ends-reamed"};
constexpr std::string_view messages[] = {"{where} has cut ends with sharp edges"};
constexpr std::string_view reasons[] = {"the code asks for no reaming of this type"};

Verdict judge(const Context& c) { return c.provides(asked, reamed); }

}  // namespace

extern const Rule raceway_reamed;
constexpr Rule raceway_reamed{
    .id = "raceway-reamed",
    .title = "Cut ends of a raceway are reamed or trimmed",
    .why = "A sharp edge strips the insulation off wires as they are pulled over it.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Take the fitting off, pull the wires back and ream the end.",
    .unseen = "How well the ends are reamed, which only an eye can judge; threads.",
    .judge = judge,
};

}  // namespace raceward::methods
