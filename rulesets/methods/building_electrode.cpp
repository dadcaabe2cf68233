// Asks whether a building apart has a grounding electrode.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"building-electrode-asked", "panel-electrode"};
constexpr std::string_view messages[] = {
    "{where} is in another building than what feeds it, and it has no grounding electrode"};
constexpr std::string_view reasons[] = {
    "it is in the building of what feeds it, or a single branch circuit with an equipment grounding "
    "conductor feeds it"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule building_electrode;
constexpr Rule building_electrode{
    .id = "building-electrode",
    .title = "A building apart from what feeds it has a grounding electrode",
    .why =
        "Lightning and surges on the way between the buildings find no way to earth, and raise the voltage "
        "of metal there.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Drive ground rods, or use an electrode that is there, and connect it to the grounding bar of the "
        "panel.",
    .unseen =
        "Which electrodes are there and must be connected together; buildings without a panel; services.",
    .judge = judge,
};

}  // namespace raceward::methods
