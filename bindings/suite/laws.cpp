#include "laws.hpp"

#include <filesystem>
#include <utility>

namespace raceward::suite {

namespace fs = std::filesystem;

Laws::Laws(std::vector<const Rule*> extra_rules) : extra_rules_(std::move(extra_rules)) {
  for (RulesetInfo& shipped : shipped_rulesets()) shipped_.insert(std::move(shipped.id));
}

const Laws::Law& Laws::at(const std::string& id_or_path) {
  const std::lock_guard guard(mutex_);
  const auto [law, is_new] = laws_.try_emplace(id_or_path);
  if (is_new) {
    law->second.loaded = load_ruleset(id_or_path);
    if (law->second.loaded.law) law->second.ready = make_ready(law->second.loaded.law, extra_rules_);
  }
  return law->second;
}

std::string Laws::named(const std::string& name, const std::string& document) const {
  return shipped_.contains(name) ? name
                                 : (fs::path(document).parent_path() / name).lexically_normal().string();
}

std::string Laws::spelt_in(const Document& document, const std::string& law) const {
  std::error_code error;
  const fs::path asked = fs::weakly_canonical(law, error);
  for (const std::string& name : document.expected.under) {
    if (name == law || fs::weakly_canonical(named(name, document.file), error) == asked) return name;
  }
  return law;
}

std::vector<std::string> Laws::judging(const Document& document, const Installation& installation,
                                       const Choice& choice) const {
  if (!choice.under.empty()) return {choice.under};
  std::vector<std::string> out;
  for (const std::string& name : document.expected.under) out.push_back(named(name, document.file));
  std::string adopted(adopted_ruleset(installation));
  if (out.empty() && shipped_.contains(adopted)) out.push_back(std::move(adopted));
  return out;
}

}  // namespace raceward::suite
