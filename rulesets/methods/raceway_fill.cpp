// Asks whether the conductors leave a raceway enough free room.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { conductors, fill, counted, limit, any_length, shortest, known };
constexpr std::string_view figures[] = {"conductors-in-raceway",         "raceway-fill",
                                        "raceway-fill-counted",          "raceway-fill-limit",
                                        "raceway-fill-limit-any-length", "raceway-fill-limit-shortest",
                                        "raceway-fill-at-least"};
enum : std::uint32_t { whole_known, at_least };
constexpr std::string_view messages[] = {
    "{where} is filled to {measured}, and at most {limit} is allowed",
    "{where} is filled to {measured} or more, and at most {limit} is allowed"};
constexpr std::string_view reasons[] = {"no conductors lie in it"};

bool within(const Reading& measured, const Reading& most) {
  return measured && most && measured.amount.count <= most.amount.count;
}

Verdict judge(const Context& c) {
  const Reading held = c.figure(conductors);
  if (held && held.amount.count == 0) return Context::not_applicable();

  // What a raceway of any length may hold needs no length; what not even the shortest may hold, neither.
  const Reading whole = c.figure(fill), ordinary = c.figure(any_length);
  if (within(whole, ordinary)) return Context::complies(whole, ordinary);
  const Reading rounded = c.figure(counted), most = c.figure(shortest);
  if (within(rounded, ordinary)) return Context::complies(rounded, ordinary);
  if (!rounded && most) {
    // What is missing can only take more room.
    const Reading least = c.figure(known), by_length = c.figure(limit);
    const Reading& asked = by_length ? by_length : most;
    if (least && asked.amount.count < least.amount.count) return Context::violates(at_least, least, asked);
  }
  if (!rounded || !most) return Context::undetermined(c.both(rounded.missing, most.missing));
  const Reading allowed = c.figure(limit);
  if (within(rounded, allowed)) return Context::complies(rounded, allowed);
  if (allowed) return Context::violates(whole_known, whole, allowed);
  if (!within(rounded, most)) return Context::violates(whole_known, whole, most);
  return Context::undetermined(allowed.missing);
}

}  // namespace

extern const Rule raceway_fill;
constexpr Rule raceway_fill{
    .id = "raceway-fill",
    .title = "A raceway is filled by its conductors no more than allowed",
    .why = "Conductors packed too tightly are damaged when they are pulled and cannot give off their heat.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a larger trade size, or lay some of the conductors in another raceway.",
    .unseen =
        "How hard a pull is; the share that surface raceways may be filled to, which their maker's listing "
        "sets; "
        "splices in a wireway, which may fill more of it; what the heat of many conductors does to their "
        "ampacity.",
    .judge = judge,
};

}  // namespace raceward::methods
