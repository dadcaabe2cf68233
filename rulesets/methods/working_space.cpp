// Asks whether there is room to stand and work before a panel.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { depth, depth_needed, width, width_needed, height, height_needed };
constexpr std::string_view figures[] = {"working-depth",  "working-depth-needed",
                                        "working-width",  "working-width-needed",
                                        "working-height", "working-height-needed"};
enum : std::uint32_t { shallow, narrow, low };
constexpr std::string_view messages[] = {
    "{where} has {measured} of free depth before it, and needs {limit}",
    "{where} has {measured} of free width before it, and needs {limit}",
    "{where} has {measured} of free height before it, and needs {limit}"};

Verdict judge(const Context& c) {
  // What is too little decides, whatever else is not known.
  const auto told_in_feet = [&](std::uint32_t has, std::uint32_t needed, std::uint32_t message) {
    const Reading first = in_feet(c.figure(has));
    return c.at_least(first, in_feet(c.figure(needed)), message);
  };
  const Verdict each[] = {told_in_feet(depth, depth_needed, shallow), c.at_least(width, width_needed, narrow),
                          told_in_feet(height, height_needed, low)};
  for (const Verdict& v : each)
    if (v.outcome == Outcome::violates) return v;
  MissingId missing = 0;
  for (const Verdict& v : each) missing = c.both(missing, v.missing);
  return missing != 0 ? Context::undetermined(missing) : each[0];
}

}  // namespace

extern const Rule working_space;
constexpr Rule working_space{
    .id = "working-space",
    .title = "There is enough free space to work before a panel",
    .why = "Who is cramped before live parts touches them, or cannot get away from an arc.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Clear the space and keep it clear, or move the panel.",
    .unseen =
        "Whether the space is used for storage later; the way to it and its light; what is above and below "
        "the panel; equipment other than panels.",
    .judge = judge,
};

}  // namespace raceward::methods
