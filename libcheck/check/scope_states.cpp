#include "check/scope_states.hpp"

#include <algorithm>
#include <bit>

namespace raceward::checking {

namespace {

/// So many conditions may be unknown of one subject at once before it is not worth trying all ways.
constexpr int most_unknown = 4;

}  // namespace

ScopeStates::ScopeStates(figure::Evaluation& e, const Law& law) : e_(e), law_(law), conditions_(e, law) {
  const std::vector<Scope>& scopes = law.scopes;
  for (const Scope& scope : scopes) {
    const auto alike = std::ranges::find(scopes, scope.when, &Scope::when);
    first_alike_.push_back(static_cast<std::size_t>(alike - scopes.begin()));
    const bool within = scope.when.kind == Condition::Kind::all && !scope.when.parts.empty();
    const auto around =
        within ? std::ranges::find_if(
                     scopes, [&](const Scope& s) { return s.adopts && s.when == scope.when.parts[0]; })
               : scopes.end();
    around_.push_back(around == scopes.end() ? scopes.size()
                                             : static_cast<std::size_t>(around - scopes.begin()));
  }
}

const ScopeStates::State& ScopeStates::of(Subject subject) {
  const auto [at, is_new] = states_.try_emplace(subject);
  State& state = at->second;
  if (!is_new) return state;
  const std::vector<Scope>& scopes = law_.scopes;
  state.missing.resize(scopes.size());
  for (std::size_t i = 0; i < scopes.size(); ++i) {
    const Holds holds = conditions_.holds(scopes[i].when, subject);
    if (holds.yes()) state.holds |= bit(i);
    if (!holds.unknown()) continue;
    state.unknown |= bit(i);
    state.missing[i] = holds.missing;
    if (around_[i] == scopes.size()) continue;
    const std::vector<Condition>& parts = scopes[i].when.parts;
    const bool rest = std::all_of(parts.begin() + 1, parts.end(), [&](const Condition& part) {
      return conditions_.holds(part, subject).yes();
    });
    if (rest) state.follows |= bit(i);
  }
  return state;
}

MissingId ScopeStates::missing(const State& state, Mask of) const {
  MissingId out = 0;
  for (std::size_t i = 0; i < state.missing.size(); ++i) {
    if ((state.unknown & of & bit(i)) != 0) out = e_.missing.both(out, state.missing[i]);
  }
  return out;
}

std::optional<std::vector<Mask>> ScopeStates::ways(const State& state, Mask of) const {
  const Mask holds = state.holds & of, unknown = state.unknown & of;
  // Conditions that ask the same hold together, and those of an adopted ruleset hold where that is adopted.
  const auto lead = [&](std::size_t i) {
    return first_alike_[(state.follows & bit(i)) != 0 ? around_[i] : i];
  };
  Mask apart = 0;
  for (std::size_t i = 0; i < state.missing.size(); ++i) {
    if ((unknown & bit(i)) != 0) apart |= bit(lead(i));
  }
  if (std::popcount(apart) > most_unknown) return std::nullopt;
  std::vector<Mask> out;
  Mask part = apart;
  for (;; part = (part - 1) & apart) {
    Mask with = holds;
    for (std::size_t i = 0; i < state.missing.size(); ++i) {
      const bool in_force = around_[i] == state.missing.size() || (with & bit(around_[i])) != 0;
      if ((unknown & bit(i)) != 0 && (part & bit(lead(i))) != 0 && in_force) with |= bit(i);
    }
    out.push_back(with);
    if (part == 0) break;
  }
  return out;
}

}  // namespace raceward::checking
