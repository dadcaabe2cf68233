// Every shipped rule as a rule of a compiled module, under another id: what is built in can be brought as
// well.
#include <deque>
#include <raceward/module.hpp>
#include <string>

namespace raceward::methods {
#define RACEWARD_METHOD(name) extern const Rule name;
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
}  // namespace raceward::methods

namespace {

/// A rule under another id.
struct Renamed {
  explicit Renamed(const raceward::Rule& r)
      : id("m-" + std::string(r.id)), rule(r), told((rule.id = id, rule)) {}

  std::string id;
  raceward::Rule rule;
  raceward::module::Told told;
};

/// Rules named at run time, so by the structs beneath RACEWARD_MODULE_OF.
const raceward_rule* renamed(std::uint32_t number) noexcept {
  using namespace raceward;
  static const std::deque<Renamed>* const all = [] {
    auto* const list = new std::deque<Renamed>;
#define RACEWARD_METHOD(name) list->emplace_back(methods::name);
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
    return list;
  }();
  return number < all->size() ? &(*all)[number].told : nullptr;
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
