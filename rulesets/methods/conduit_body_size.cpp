// Asks whether a conduit body has the cross-section that its raceways ask for.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { large, has, asks };
constexpr std::string_view figures[] = {"large-pulls", "conduit-body-area", "conduit-body-area-needed"};
constexpr std::string_view messages[] = {"{where} has a cross-section of {measured}, and {limit} is needed"};
constexpr std::string_view reasons[] = {"it holds large conductors, which are judged by their pulls"};

Verdict judge(const Context& c) {
  const Reading count = c.figure(large);
  if (!count) return Context::undetermined(count.missing);
  if (count.amount.count > 0) return Context::not_applicable();
  return c.at_least(has, asks);
}

}  // namespace

extern const Rule conduit_body_size;
constexpr Rule conduit_body_size{
    .id = "conduit-body-size",
    .title = "A conduit body has the cross-section that the largest raceway it takes asks for",
    .why = "A conduit body narrower than that crowds the conductors at the sharpest turn of the run.",
    .subject = SubjectKind::conduit_body,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a conduit body with a larger cross-section; the maker's data gives it.",
    .unseen =
        "Short elbows, which are undetermined; where only smaller raceways than its own size are attached, "
        "other types than theirs that it could take.",
    .judge = judge,
};

}  // namespace raceward::methods
