// Every shipped rule as a rule of a compiled module, under another id: what is built in can be brought as
// well.
#include <raceward/module.hpp>
#include <string>

namespace raceward::methods {
#define RACEWARD_METHOD(name) extern const Rule name;
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
}  // namespace raceward::methods

namespace {

/// Rules named at run time, so by the structs beneath RACEWARD_MODULE_OF.
const raceward_rule* renamed(std::uint32_t number) noexcept {
  using namespace raceward;
  static const Rule* const rules[] = {
#define RACEWARD_METHOD(name) &methods::name,
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
  };
  static const auto* const told = [] {
    auto* const all = new std::vector<const module::Told*>;
    for (const Rule* rule : rules) {
      Rule* const copy = new Rule(*rule);
      copy->id = *new std::string("m-" + std::string(rule->id));
      all->push_back(new module::Told(*copy));
    }
    return all;
  }();
  return number < told->size() ? (*told)[number] : nullptr;
}

constexpr std::uint32_t count = 0
#define RACEWARD_METHOD(name) +1
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
    ;

constexpr raceward_module all_of_them() {
  raceward_module m = raceward::module::entry<>("shipped", "1.0", "What Raceward ships.");
  m.rule_count = count;
  m.rule = &renamed;
  return m;
}

}  // namespace

extern "C" RACEWARD_ENTRY constexpr raceward_module raceward_entry = all_of_them();
