// Asks whether conductors in parallel are large enough, alike and of one length.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { sets, small, alike, ways, difference, limit };
constexpr std::string_view figures[] = {
    "conductors-in-parallel", "small-in-parallel",          "parallel-alike",
    "parallel-ways-alike",    "parallel-length-difference", "parallel-length-limit"};
constexpr std::string_view messages[] = {
    "{measured} conductors of {where} are too small to lie in parallel, such as {place}",
    "conductors of {where} in parallel differ in size, metal or insulation",
    "conductors of {where} in parallel lie in raceways of different kinds, some of metal that others are not "
    "of",
    "conductors of {where} in parallel differ in length by {measured}, and {limit} is taken for one length"};
constexpr std::string_view reasons[] = {"no conductors of it are in parallel"};

enum : std::uint32_t { too_small, unlike, raceways, lengths };

Verdict judge(const Context& c) {
  const Reading in = c.figure(sets);
  if (in && in.amount.count == 0) return Context::not_applicable();
  if (!in) return Context::undetermined(in.missing);
  const Reading little = c.figure(small);
  if (little && little.amount.count != 0) return Context::violates(too_small, little);
  const Reading same = c.figure(alike);
  if (same && same.amount.count == 0) return Context::violates(unlike, same);
  const Reading same_ways = c.figure(ways);
  if (same_ways && same_ways.amount.count == 0) return Context::violates(raceways, same_ways);
  const Verdict length = c.at_most(difference, limit, lengths);
  if (length.outcome == Outcome::violates) return length;
  const MissingId missing =
      c.both(c.both(little.missing, same.missing), c.both(same_ways.missing, length.missing));
  return missing != 0 ? Context::undetermined(missing) : length;
}

}  // namespace

extern const Rule parallel_conductors;
constexpr Rule parallel_conductors{
    .id = "parallel-conductors",
    .title = "Conductors in parallel are large, alike, of one length and in like raceways",
    .why =
        "Current divides by impedance: the shorter or larger conductor carries more than its share and "
        "overheats.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull sets of one size, metal, insulation and length, of no size below the least, in raceways of one "
        "kind; or one larger conductor.",
    .unseen =
        "How they are terminated; whether each raceway holds a whole set, which circuit-together judges; "
        "small conductors in parallel that the code lets be in control wiring and other special cases; "
        "lengths within panels and boxes.",
    .judge = judge,
};

}  // namespace raceward::methods
