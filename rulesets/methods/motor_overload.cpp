// Asks whether a motor is protected against overload.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, provided, setting, limit };
constexpr std::string_view figures[] = {"overload-asked", "overload-provided", "overload-setting",
                                        "overload-limit"};
enum : std::uint32_t { unprotected, too_high };
constexpr std::string_view messages[] = {
    "nothing protects {where} against overload",
    "the overload relay of {where} is set to {measured}, and at most {limit} is allowed{detail}"};
constexpr std::string_view reasons[] = {"it is no motor"};

Verdict judge(const Context& c) {
  const Verdict there = c.provides(asked, provided, unprotected);
  if (there.outcome == Outcome::violates || there.outcome == Outcome::not_applicable) return there;
  const Reading set = c.figure(setting);
  if (set && set.amount.count == 0) return there;  // in the motor
  const Reading is = c.figure(asked);
  if (!is) return Context::undetermined(is.missing);
  const Verdict within = c.at_most(setting, limit, too_high);
  if (there.outcome == Outcome::complies || within.outcome == Outcome::violates) return within;
  return there;
}

}  // namespace

extern const Rule motor_overload;
constexpr Rule motor_overload{
    .id = "motor-overload",
    .title = "A motor is protected against overload",
    .why =
        "A motor that is stuck or works too hard burns out while its overcurrent device, large enough to let "
        "it start, "
        "sees nothing.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Use a motor with a thermal protector, or a controller with an overload relay set to the motor's "
        "nameplate.",
    .unseen =
        "Motor-compressors of air conditioning and refrigeration, whose makers protect them; fuses as "
        "overload protection; "
        "motors that run for a short time.",
    .judge = judge,
};

}  // namespace raceward::methods
