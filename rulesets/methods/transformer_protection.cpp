// Asks whether the overcurrent device ahead of a transformer is small enough for it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { is_one, device, limit };
constexpr std::string_view figures[] = {"is-transformer", "transformer-device", "transformer-device-limit"};
constexpr std::string_view messages[] = {
    "the overcurrent device ahead of {where} is of {measured}, and it allows {limit}"};
constexpr std::string_view reasons[] = {"it is no transformer"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(is_one);
  if (!is) return Context::undetermined(is.missing);
  if (is.amount.count == 0) return Context::not_applicable();
  return c.at_most(device, limit);
}

}  // namespace

extern const Rule transformer_protection;
constexpr Rule transformer_protection{
    .id = "transformer-protection",
    .title = "The overcurrent device ahead of a transformer is at most a multiple of its rated current",
    .why =
        "A transformer that carries too much heats its windings until their insulation fails. Its inrush may "
        "pass a larger device where one on its secondary sees the load.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a smaller overcurrent device, or a main on the secondary within the limit for that.",
    .unseen =
        "Transformers for more than the voltage of the table; their own thermal protection, which may allow "
        "more; autotransformers; transformers of motor control, class 2 and fire pump circuits, which have "
        "rules "
        "of their own; several overcurrent devices in place of one main on a secondary.",
    .judge = judge,
};

}  // namespace raceward::methods
