// Asks whether each grounded conductor in a panel has a terminal of its own.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"neutral-terminals-asked", "neutral-terminals"};
constexpr std::string_view messages[] = {"in {where} grounded conductors share a terminal"};
constexpr std::string_view reasons[] = {"no more than one grounded conductor is known to end in it"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule neutral_terminals;
constexpr Rule neutral_terminals{
    .id = "neutral-terminals",
    .title = "Each grounded conductor in a panel has a terminal of its own",
    .why =
        "Whoever loosens one to work on its circuit opens the other, and puts a higher voltage on what it "
        "feeds.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Give each grounded conductor its own hole on the bar, or add a bar.",
    .unseen =
        "Terminals that are made for conductors in parallel; equipment grounding conductors, several of "
        "which may share a terminal that is marked for it.",
    .judge = judge,
};

}  // namespace raceward::methods
