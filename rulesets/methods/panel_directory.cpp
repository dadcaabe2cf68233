// Asks whether a panel's circuits are told at the panel.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { complete };
constexpr std::string_view figures[] = {"panel-directory"};
constexpr std::string_view messages[] = {"{where} has no complete directory of its circuits"};

Verdict judge(const Context& c) { return c.holds(complete); }

}  // namespace

extern const Rule panel_directory;
constexpr Rule panel_directory{
    .id = "panel-directory",
    .title = "A panel has a directory that tells each circuit's purpose",
    .why = "Whoever must cut a circuit in an emergency, or works on it later, finds the wrong handle.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure =
        "Write for each overcurrent device, and each space left over, what it feeds, so that no two read "
        "alike.",
    .unseen = "What the directory says: whether it is true, legible and plain.",
    .judge = judge,
};

}  // namespace raceward::methods
