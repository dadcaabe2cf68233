#include "check/ready_law.hpp"

#include <utility>

#include "check/always_said.hpp"

namespace raceward {

namespace {

std::vector<checking::BoundRule> bound(const Law& law, const std::vector<const Rule*>& extra_rules,
                                       std::vector<const Rule*>& doubles) {
  std::vector<const Rule*> all = shipped_rules();
  all.insert(all.end(), extra_rules.begin(), extra_rules.end());
  return checking::bind_rules(law, all, doubles);
}

}  // namespace

ReadyLaw::ReadyLaw(std::shared_ptr<const Law> of, const std::vector<const Rule*>& extra_rules)
    : law(std::move(of)),
      rules(bound(*law, extra_rules, doubles)),
      words(rules, law.get()),
      notes(std::make_shared<figure::LawNotes>(*law)),
      cautions(checking::cautions(*law)) {}

std::shared_ptr<const ReadyLaw> make_ready(std::shared_ptr<const Law> law,
                                           const std::vector<const Rule*>& extra_rules) {
  return std::make_shared<const ReadyLaw>(std::move(law), extra_rules);
}

const Law& law_of(const ReadyLaw& ready) { return *ready.law; }

}  // namespace raceward
