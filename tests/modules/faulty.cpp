// Rules written as rules are, that do what no rule should; and one that throws where nothing catches.
#include <new>
#include <raceward/module.hpp>
#include <stdexcept>
#include <string>

namespace faulty {

using namespace raceward;

constexpr std::string_view figures[] = {"raceway-length", "raceway-fill"};
constexpr std::string_view parameters[] = {"most"};
constexpr std::string_view messages[] = {"{where} is {measured} long, and at most {limit} is allowed"};
constexpr std::string_view strange_figures[] = {"raceway-lenght"};
constexpr std::string_view strange_parameters[] = {"least"};

constexpr Rule rule(std::string_view id, Verdict (*judge)(const Context&)) {
  Rule r;
  r.id = id;
  r.title = "A raceway is no longer than allowed";
  r.why = "for the test";
  r.subject = SubjectKind::raceway;
  r.figures = figures;
  r.parameters = parameters;
  r.messages = messages;
  r.cure = "Make it shorter.";
  r.judge = judge;
  return r;
}

Verdict well(const Context& c) { return c.at_most(c.figure(0), c.parameter(0)); }

extern const Rule fine, throws, throws_at_one, throws_a_number, wants_memory, compares_kinds,
    changes_its_mind, no_such_figure, no_such_parameter, of_a_shipped_name;
constexpr Rule fine = rule("fine", well);
constexpr Rule throws = rule(
    "throws", [](const Context&) -> Verdict { throw std::runtime_error("the author forgot something"); });
constexpr Rule throws_at_one = rule("throws-at-one", [](const Context& c) -> Verdict {
  if (c.subject().index == 1) throw std::runtime_error("number " + std::to_string(c.subject().index));
  return well(c);
});
constexpr Rule throws_a_number = rule("throws-a-number", [](const Context&) -> Verdict { throw 42; });
constexpr Rule wants_memory = rule("wants-memory", [](const Context&) -> Verdict { throw std::bad_alloc(); });
constexpr Rule compares_kinds = rule("compares-kinds", [](const Context& c) -> Verdict {
  Reading length = c.figure(0);
  length.amount.unit = Unit::ampere;
  length.missing = 0;
  return c.at_most(length, c.parameter(0));
});
constexpr Rule changes_its_mind = rule("changes-its-mind", [](const Context& c) -> Verdict {
  static int asked = 0;
  Reading length = c.parameter(0);
  length.amount.count += ++asked;
  return Context::violates(0, length, c.parameter(0));
});
constexpr Rule no_such_figure = [] {
  Rule r = rule("no-such-figure", well);
  r.figures = strange_figures;
  return r;
}();
constexpr Rule no_such_parameter = [] {
  Rule r = rule("no-such-parameter", well);
  r.parameters = strange_parameters;
  return r;
}();
constexpr Rule of_a_shipped_name = rule("bend-total", well);

/// By hand, past what catches.
void throw_across(const raceward_rule*, const raceward_batch*) { throw std::runtime_error("across"); }

const raceward_rule* with_one_more(std::uint32_t number) noexcept {
  constexpr auto others =
      &module::rule<&fine, &throws, &throws_at_one, &throws_a_number, &wants_memory, &compares_kinds,
                    &changes_its_mind, &no_such_figure, &no_such_parameter, &of_a_shipped_name>;
  if (number < 10) return others(number);
  static const raceward_rule across = [] {
    static module::Told told(*new Rule(rule("throws-across", well)));
    raceward_rule r = told;
    r.judge = &throw_across;
    return r;
  }();
  return number == 10 ? &across : nullptr;
}

constexpr raceward_module entry() {
  raceward_module m = module::entry<>("faulty-cpp", "1.0", "What authors get wrong.");
  m.rule_count = 11;
  m.rule = &with_one_more;
  return m;
}

}  // namespace faulty

extern "C" RACEWARD_ENTRY constexpr raceward_module raceward_entry = faulty::entry();
