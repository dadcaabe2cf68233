// Asks whether raceways hang on supports that may carry them.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { written, unfit };
constexpr std::string_view figures[] = {"supports-written", "unfit-supports"};
constexpr std::string_view messages[] = {
    "of the supports of {where}, so many may not carry a raceway: {measured}"};
constexpr std::string_view reasons[] = {"no supports of it are written"};

Verdict judge(const Context& c) {
  const Reading any = c.figure(written);
  if (any && any.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(unfit);
  if (!bad) return Context::undetermined(bad.missing);
  return bad.amount.count == 0 ? Context::complies() : Context::violates(0, bad);
}

}  // namespace

extern const Rule independent_support;
constexpr Rule independent_support{
    .id = "independent-support",
    .title = "Raceways hang on supports of their own",
    .why = "A wire of the ceiling or another raceway is not made for the load, and takes both down.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Fasten the raceway to the structure: straps, clamps, hangers, or wires of its own that are secured "
        "at both ends.",
    .unseen =
        "What hangs on the raceway; wires beside those of the ceiling, which are to be told from them; the "
        "strength of supports.",
    .judge = judge,
};

}  // namespace raceward::methods
