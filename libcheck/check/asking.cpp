#include "check/asking.hpp"

#include <algorithm>
#include <exception>
#include <new>

namespace raceward::checking {

namespace {

void count_limit(const Verdict& v, Tally& tally, std::uint64_t one) {
  if (!v.has_measured || !v.has_limit) return;
  tally.compared += one;
  if (v.measured.amount.count == v.limit.amount.count) tally.at_limit += one;
}

bool advises(const BoundRule& bound) { return bound.setting->force == RuleSetting::Force::advised; }

}  // namespace

/// Counts an answer, and tells of it where it is worth reading.
void Asking::count(Subject subject, const Verdict& verdict, std::vector<Finding>* findings) {
  if (!fault_.empty()) return blame(subject);
  switch (verdict.outcome) {
    case Outcome::complies:
      ++tally_.complies;
      count_limit(verdict, tally_, 1);
      return;
    case Outcome::not_applicable:
      tally_.leave_out(rule_, verdict.message);
      return;
    case Outcome::violates:
      ++tally_.violates;
      tally_.advised += advises(bound_) ? 1 : 0;
      count_limit(verdict, tally_, 1);
      break;
    case Outcome::undetermined:
      ++tally_.undetermined;
      break;
  }
  if (findings != nullptr) tell(subject, verdict, *findings);
}

/// The rule's answer; fault_ tells where it is none. Each verdict is made where it is read: to copy what was
/// written a moment ago makes the processor wait.
Verdict Asking::answer(Subject subject) {
  if (!fault_.empty()) fault_.clear();
  Verdict verdict = answered(subject);
  make_sense(verdict);
  return verdict;
}

void Asking::make_sense(Verdict& verdict) {
  if (!fault_.empty()) return;
  settle(verdict);
  if (const char* nonsense = nonsense_of(verdict)) fault_ = nonsense;
  if (!context_.fault().empty()) fault_ = context_.fault();  // it says more than what comes of it
}

Verdict Asking::answered(Subject subject) {
  if (rule_.compiled != nullptr) {
    batch_->ask({&subject, 1}, again_);
    fault_ = again_.front().fault;
    return again_.front().verdict;
  }
  context_.about(subject);
  try {
    return bound_.requirement != nullptr ? required()
           : data_                       ? data_->answer(position_ - first_, noting_ ? &working_ : nullptr)
                                         : rule_.judge(context_);
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& error) {
    fault_ = std::string("it threw: ") + error.what();
  } catch (...) {
    fault_ = "it threw";
  }
  return {};
}

Verdict Asking::required() {
  const Holds given = conditions_->holds(bound_.requirement->given, context_.subject());
  if (given.answer == Holds::Answer::no || given.not_asked()) return Context::not_applicable();
  const Holds must = conditions_->holds(bound_.requirement->must, context_.subject(), true);
  if (must.yes()) return Context::complies();
  if (must.not_asked()) return Context::not_applicable();
  if (given.unknown() || must.unknown())
    return Context::undetermined(must.unknown() ? context_.both(given.missing, must.missing) : given.missing);
  Verdict out;
  out.outcome = Outcome::violates;
  return out;
}

/// A verdict over values that are missing is undetermined, whatever the rule made of them.
void Asking::settle(Verdict& v) const {
  if (v.outcome != Outcome::complies && v.outcome != Outcome::violates) return;
  const MissingId measured = v.has_measured ? v.measured.missing : 0;
  const MissingId limit = v.has_limit ? v.limit.missing : 0;
  if (measured != 0 || limit != 0) v = Context::undetermined(context_.both(measured, limit));
}

const char* Asking::nonsense_of(const Verdict& v) const {
  switch (v.outcome) {
    case Outcome::complies:
    case Outcome::not_applicable:
      return nullptr;
    case Outcome::violates:
      return v.message < rule_.messages.size() ? nullptr
                                               : "it says that something is wrong without a sentence for it";
    case Outcome::undetermined:
      if (v.missing == 0) return "it names no missing fact, or compares different kinds of quantities";
      return v.missing < e_.missing.size() ? nullptr : "it names missing facts that there are not";
  }
  return "it answers with an unknown verdict";
}

void Asking::tell(Subject subject, const Verdict& verdict, std::vector<Finding>& findings) {
  if (worded_) return explain(subject, verdict, findings);
  verdict_into(findings.emplace_back(), e_, bound_, subject, verdict);
}

void Asking::explain(Subject subject, const Verdict& first, std::vector<Finding>& findings) {
  working_.clear();
  context_.explain_into(&working_);
  noting_ = true;
  const Verdict again = answer(subject);
  const bool answered = fault_.empty();
  noting_ = false;
  context_.explain_into(nullptr);
  if (!answered || again.outcome != first.outcome || again.measured.amount != first.measured.amount) {
    const bool violated = first.outcome == Outcome::violates;
    --(violated ? tally_.violates : tally_.undetermined);
    if (violated) count_limit(first, tally_, std::uint64_t(0) - 1);
    if (violated && advises(bound_)) --tally_.advised;
    if (answered) fault_ = "it answers differently when asked again";
    return blame(subject);
  }
  if (first.outcome == Outcome::undetermined && working_.lines.empty()) context_.tell_figures(working_.lines);
  findings.push_back(finding_of(e_, bound_, subject, first, working_, lists_));
}

Outcome Asking::outcome_of(Subject subject) {
  if (data_) {
    position_ = first_ = 0;
    data_->prepare({&subject, 1});
  }
  const Verdict verdict = answer(subject);
  return fault_.empty() ? verdict.outcome : Outcome::undetermined;
}

void Asking::off_here() {
  tally_.leave_out(rule_, rule_.reasons.size());
  ++tally_.off_here;
}

void Asking::depends_on(Subject subject, MissingId missing, std::vector<Finding>* findings) {
  ++tally_.undetermined;
  if (findings == nullptr) return;
  const Verdict open = Context::undetermined(missing);
  if (!worded_) return verdict_into(findings->emplace_back(), e_, bound_, subject, open);
  working_.clear();
  working_.lines.emplace_back(
      "it is not known which conditions of the ruleset hold here, and the rule is not the same under them");
  findings->push_back(finding_of(e_, bound_, subject, open, working_, lists_));
}

void Asking::blame(Subject subject) {
  ++tally_.undetermined;
  if (tally_.faults++ > 0) return;
  tally_.first_fault = fault_;
  tally_.first_at = installation::words_of(e_.model, e_.in.sections, subject);
  tally_.first_position = position_;
}

void Asking::ask_compiled(std::span<const Subject> subjects, std::vector<Finding>* findings) {
  batch_->ask(subjects, answers_);
  for (std::size_t i = 0; i < subjects.size(); ++i, ++position_) {
    context_.about(subjects[i]);
    fault_ = std::move(answers_[i].fault);
    make_sense(answers_[i].verdict);
    count(subjects[i], answers_[i].verdict, findings);
  }
}

void Asking::ask(std::span<const Subject> subjects, std::size_t first, std::vector<Finding>* findings) {
  position_ = first_ = first;
  if (data_) data_->prepare(subjects);
  if (rule_.compiled != nullptr) {
    for (std::size_t at = 0; at < subjects.size(); at += Batch::largest) {
      ask_compiled(subjects.subspan(at, std::min(Batch::largest, subjects.size() - at)), findings);
    }
    return;
  }
  for (const Subject subject : subjects) {
    const Verdict verdict = answer(subject);
    count(subject, verdict, findings);
    ++position_;
  }
}

}  // namespace raceward::checking
