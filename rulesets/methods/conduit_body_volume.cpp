// Asks whether a conduit body that holds splices is marked with a volume, and a sufficient one.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { splices, has, asks };
constexpr std::string_view figures[] = {"conduit-body-splices", "conduit-body-volume",
                                        "conduit-body-volume-needed"};
constexpr std::string_view messages[] = {
    "{where} offers {measured} for splices, and what is in it needs {detail}{limit}"};
constexpr std::string_view reasons[] = {"no conductors are spliced in it"};

Verdict judge(const Context& c) {
  const Reading count = c.figure(splices);
  if (!count) return Context::undetermined(count.missing);
  if (count.amount.count == 0) return Context::not_applicable();
  return c.at_least(has, asks);
}

}  // namespace

extern const Rule conduit_body_volume;
constexpr Rule conduit_body_volume{
    .id = "conduit-body-volume",
    .title = "A conduit body holds splices only where its marked volume suffices",
    .why = "Splices crowded into a fitting made for passing conductors overheat and cannot be remade.",
    .subject = SubjectKind::conduit_body,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Splice in a box instead, or use a conduit body marked with a sufficient volume.",
    .unseen =
        "Whether the marking is durable, and whether the volume marked is the volume that is there; what "
        "holds the "
        "body.",
    .judge = judge,
};

}  // namespace raceward::methods
