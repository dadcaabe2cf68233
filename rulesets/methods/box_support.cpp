// Asks whether a box is fastened, or carried by raceways that may carry it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held };
constexpr std::string_view figures[] = {"box-held"};
constexpr std::string_view messages[] = {
    "{where} is not held as the code asks: raceways alone may carry it only by threaded entries of rigid "
    "conduit that is strapped near it"};

Verdict judge(const Context& c) { return c.holds(held); }

}  // namespace

extern const Rule box_support;
constexpr Rule box_support{
    .id = "box-support",
    .title = "A box is fastened to the building, or carried by raceways as the code allows",
    .why = "A box that hangs by its tubing works the connectors loose, and with them the grounding path.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Fasten the box to the structure.",
    .unseen =
        "How a box is fastened: its screws, brackets and braces; pendant boxes, and luminaires below a box; "
        "conduit bodies.",
    .judge = judge,
};

}  // namespace raceward::methods
