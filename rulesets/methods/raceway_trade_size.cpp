// Asks whether a raceway is of a trade size that its type may have.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, permitted };
constexpr std::string_view figures[] = {"has-trade-size", "trade-size-permitted"};
constexpr std::string_view messages[] = {"{where} is of a trade size that is not allowed for its type"};
constexpr std::string_view reasons[] = {"wireways and surface raceways have no trade size"};

Verdict judge(const Context& c) { return c.provides(asked, permitted); }

}  // namespace

extern const Rule raceway_trade_size;
constexpr Rule raceway_trade_size{
    .id = "raceway-trade-size",
    .title = "A raceway is of a trade size that the code allows for its type",
    .why =
        "Too small a size leaves no room for wires, too large a one is not made to hold together in its "
        "fittings.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a trade size that the type comes in, or another type.",
    .unseen = "Small sizes for the leads of motors and in factory-made assemblies.",
    .judge = judge,
};

}  // namespace raceward::methods
