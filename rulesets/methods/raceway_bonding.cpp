// Asks whether metal raceways are joined to the metal of the installation.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { used, joined };
constexpr std::string_view figures[] = {"metal-raceway-used", "metal-raceway-joined"};
constexpr std::string_view messages[] = {"{where} is of metal, and nothing joins it to the grounding path"};
constexpr std::string_view reasons[] = {"it is of no metal, or no circuit lies in it"};

Verdict judge(const Context& c) { return c.provides(used, joined); }

}  // namespace

extern const Rule raceway_bonding;
constexpr Rule raceway_bonding{
    .id = "raceway-bonding",
    .title = "A metal raceway is joined to the grounding path, at its ends or by a bond",
    .why =
        "Where a wire chafes inside, isolated metal becomes live and stays so, for no current flows that "
        "would "
        "open the overcurrent device.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Take a metal box, or bond the raceway in the box to its equipment grounding conductor with a "
        "bushing or "
        "the like.",
    .unseen =
        "Whether the metal enclosure that it enters has the path, which grounding-path judges; short pieces "
        "of "
        "metal that protect cables; raceways of control wiring alone.",
    .judge = judge,
};

}  // namespace raceward::methods
