// Compiled modules as the engine holds them: what they said of themselves, copied and looked over.
#pragma once

#include <deque>
#include <string>
#include <vector>

#include "raceward/engine.hpp"
#include "raceward/module.h"

namespace raceward {

/// What asks a rule of a compiled module.
class CompiledRule {
 public:
  CompiledRule(const raceward_rule& theirs, const ModuleInfo& module) : theirs_(&theirs), module_(&module) {}

  void judge(const raceward_batch& batch) const { theirs_->judge(theirs_, &batch); }
  [[nodiscard]] const ModuleInfo& module() const { return *module_; }

 private:
  const raceward_rule* theirs_;
  const ModuleInfo* module_;
};

/// Modules are never unloaded, so their functions outlive this; their texts are copied all the same.
class Module {
 public:
  Module() = default;
  Module(const Module&) = delete;
  Module& operator=(const Module&) = delete;

  ModuleInfo info;
  std::deque<Rule> rules;

  /// A copy of a text, or of a list of texts, that lives as long as the module.
  std::string_view keep(std::string text) { return texts_.emplace_back(std::move(text)); }
  std::span<const std::string_view> keep(std::vector<std::string_view> list) {
    return lists_.emplace_back(std::move(list));
  }
  const CompiledRule& keep(const CompiledRule& rule) { return compiled_.emplace_back(rule); }

 private:
  std::deque<std::string> texts_;
  std::deque<std::vector<std::string_view>> lists_;
  std::deque<CompiledRule> compiled_;
};

namespace rule {

/// Reads what an entry says, and what is wrong with it: with the module where that is empty, with one of its
/// rules where `module` is there all the same. Judges nothing. `room` is how many bytes the entry has.
struct ReadModule {
  std::shared_ptr<Module> module;
  std::vector<std::string> problems;
};
ReadModule read_module(const raceward_module& entry, std::size_t room, std::string file);

}  // namespace rule
}  // namespace raceward
