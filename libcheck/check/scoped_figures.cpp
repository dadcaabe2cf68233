#include "check/scoped_figures.hpp"

#include <algorithm>

#include "check/variants.hpp"

namespace raceward::checking {

ScopedFigures::Under::Under(const Installation& installation, const Law& all, Mask mask)
    : law(law_under(all, mask)), evaluation(installation, law) {}

ScopedFigures::ScopedFigures(const Installation& installation, const Law& law, figure::Evaluation& plain)
    : in_(installation), law_(law), plain_(plain), states_(plain, law) {
  for (std::size_t i = 0; i < law.scopes.size(); ++i) {
    const Scope& scope = law.scopes[i];
    if (scope.adopts || !scope.parameters.empty() || !scope.tables.empty()) relevant_ |= bit(i);
  }
}

figure::Evaluation& ScopedFigures::under(Mask mask) {
  if (mask == 0) return plain_;
  std::unique_ptr<Under>& made = under_[mask];
  if (!made) made = std::make_unique<Under>(in_, law_, mask);
  return made->evaluation;
}

facts::FiguresUnder::Told ScopedFigures::of(figure::Id id, Subject subject, Subject about) {
  if (relevant_ == 0) return {plain_.get(id, subject), &plain_};
  const ScopeStates::State& state = states_.of(about);
  if ((state.unknown & relevant_) == 0) {
    figure::Evaluation& e = under(state.holds & relevant_);
    return {e.get(id, subject), &e};
  }
  const figure::Value open{0, states_.missing(state, relevant_)};
  const auto ways = states_.ways(state, relevant_);
  if (!ways) return {open, &plain_, true};
  Told first{};
  for (const Mask way : *ways) {
    figure::Evaluation& e = under(way);
    const figure::Value value = e.get(id, subject);
    if (first.in == nullptr) first = {value, &e};
    if ((value.missing == 0) != (first.value.missing == 0) ||
        (value.missing == 0 && value.count != first.value.count))
      return {open, &plain_, true};
  }
  return first;
}

std::vector<std::string> ScopedFigures::conditions_of(Subject subject) {
  std::vector<std::string> out;
  const Mask holds = relevant_ == 0 ? 0 : states_.of(subject).holds & relevant_;
  for (std::size_t i = 0; i < law_.scopes.size(); ++i) {
    if ((holds & bit(i)) != 0) out.push_back(law_.scopes[i].words);
  }
  return out;
}

}  // namespace raceward::checking
