// Asks whether a raceway bends too much between two places where conductors can be pulled.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { total, at_least_so_much, limit };
constexpr std::string_view figures[] = {"bend-total", "bend-total-at-least", "bend-total-limit"};
constexpr std::string_view messages[] = {
    "{where} bends by {measured} between pull points, and at most {limit} is allowed"};
constexpr std::string_view reasons[] = {
    "nothing bends between these pull points, or wireways and surface raceways alone lie between them"};

Verdict judge(const Context& c) {
  const Reading sum = c.figure(total);
  if (sum && sum.amount.count == 0) return Context::not_applicable();
  // What is not known can only add to the sum: it matters only where the known bends are within the limit.
  const Reading known = c.figure(at_least_so_much), most = c.figure(limit);
  if (known && most && known.amount.count > most.amount.count) return Context::violates(0, known, most);
  return c.at_most(sum, most);
}

}  // namespace

extern const Rule bend_total;
constexpr Rule bend_total{
    .id = "bend-total",
    .title = "Raceways between two pull points bend no more than allowed in all",
    .why = "Each bend adds friction: after too many of them conductors tear or stick when they are pulled.",
    .subject = SubjectKind::pull_section,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put an accessible box or conduit body between the bends, or lay the raceway with fewer of them.",
    .unseen =
        "Bends that nobody wrote down; whether a pull point can be reached with tools in hand. A section "
        "without any bend is not counted as checked.",
    .judge = judge,
};

}  // namespace raceward::methods
