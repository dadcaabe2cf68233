// A module that prints whatever it does, and would end the program with a status of its own.
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <raceward/module.hpp>

namespace loud {

using namespace raceward;

constexpr std::string_view figures[] = {"raceway-length"};
constexpr std::string_view parameters[] = {"most"};
constexpr std::string_view messages[] = {"{where} is {measured} long, and at most {limit} is allowed"};

Verdict judge(const Context& c) {
  std::printf("heard by printf\n");
  std::cout << "heard by cout" << std::endl;
  constexpr std::string_view text = "heard by write\n";
  if (write(STDOUT_FILENO, text.data(), text.size()) < 0) return Context::not_applicable(0);
  return c.at_most(c.figure(0), c.parameter(0));
}

extern const Rule rule;
constexpr Rule rule = [] {
  Rule r;
  r.id = "loud";
  r.title = "A raceway is no longer than allowed";
  r.why = "for the test";
  r.subject = SubjectKind::raceway;
  r.figures = figures;
  r.parameters = parameters;
  r.messages = messages;
  r.reasons = messages;
  r.cure = "Make it shorter.";
  r.judge = judge;
  return r;
}();

struct AtTheEnd {
  AtTheEnd() {
    std::atexit([] { _exit(0); });
  }
  ~AtTheEnd() { std::abort(); }
};
const AtTheEnd at_the_end;

}  // namespace loud

extern "C" RACEWARD_ENTRY constexpr raceward_module raceward_entry =
    raceward::module::entry<&loud::rule>("loud", "1.0", "Prints, and ends otherwise.");
