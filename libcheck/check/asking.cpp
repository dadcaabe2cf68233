#include "check/asking.hpp"

#include <exception>
#include <new>
#include <optional>

#include "check/finding_of.hpp"
#include "check/judging.hpp"

namespace raceward::checking {

namespace {

class Asking {
 public:
  Asking(figure::Evaluation& e, const BoundRule& bound)
      : e_(e), bound_(bound), rule_(*bound.rule), context_(e, bound), tally_(rule_) {}

  void ask(Subject subject, std::vector<Finding>* findings) {
    context_.about(subject);
    const std::optional<Verdict> verdict = answer();
    if (!verdict) return blame(subject);
    switch (verdict->outcome) {
      case Outcome::complies:
        ++tally_.complies;
        return;
      case Outcome::not_applicable:
        ++tally_.not_applicable;
        ++tally_.reasons[std::min<std::size_t>(verdict->message, rule_.reasons.size())];
        return;
      case Outcome::violates:
        ++tally_.violates;
        break;
      case Outcome::undetermined:
        ++tally_.undetermined;
        break;
    }
    if (findings != nullptr) explain(subject, *verdict, *findings);
  }

  Tally take() { return std::move(tally_); }

 private:
  /// The rule's answer, or nothing and a fault.
  std::optional<Verdict> answer() {
    if (!fault_.empty()) fault_.clear();
    try {
      Verdict verdict = rule_.judge(context_);
      settle(verdict);
      if (const char* nonsense = nonsense_of(verdict)) fault_ = nonsense;
      if (!context_.fault().empty()) fault_ = context_.fault();  // it says more
      if (fault_.empty()) return verdict;
    } catch (const std::bad_alloc&) {
      throw;
    } catch (const std::exception& error) {
      fault_ = std::string("it threw: ") + error.what();
    } catch (...) {
      fault_ = "it threw";
    }
    return std::nullopt;
  }

  /// A verdict over values that are missing is undetermined, whatever the rule made of them.
  void settle(Verdict& v) const {
    if (v.outcome != Outcome::complies && v.outcome != Outcome::violates) return;
    const MissingId measured = v.has_measured ? v.measured.missing : 0;
    const MissingId limit = v.has_limit ? v.limit.missing : 0;
    if (measured != 0 || limit != 0) v = Context::undetermined(context_.both(measured, limit));
  }

  const char* nonsense_of(const Verdict& v) const {
    switch (v.outcome) {
      case Outcome::complies:
      case Outcome::not_applicable:
        return nullptr;
      case Outcome::violates:
        return v.message < rule_.messages.size()
                   ? nullptr
                   : "it says that something is wrong without a sentence for it";
      case Outcome::undetermined:
        if (v.missing == 0) return "it names no missing fact, or compares different kinds of quantities";
        return v.missing < e_.missing.size() ? nullptr : "it names missing facts that there are not";
    }
    return "it answers with an unknown verdict";
  }

  void explain(Subject subject, const Verdict& first, std::vector<Finding>& findings) {
    figure::Working working;
    context_.explain_into(&working);
    const std::optional<Verdict> again = answer();
    context_.explain_into(nullptr);
    if (!again || again->outcome != first.outcome || again->measured.amount != first.measured.amount) {
      --(first.outcome == Outcome::violates ? tally_.violates : tally_.undetermined);
      if (again) fault_ = "it answers differently when asked again";
      return blame(subject);
    }
    findings.push_back(finding_of(e_, bound_, subject, first, std::move(working), lists_));
  }

  void blame(Subject subject) {
    ++tally_.undetermined;
    if (tally_.faults++ > 0) return;
    tally_.first_fault = fault_;
    tally_.first_at = installation::words_of(e_.model, e_.in.sections, subject);
  }

  figure::Evaluation& e_;
  const BoundRule& bound_;
  const Rule& rule_;
  Judging context_;
  Tally tally_;
  CitedLists lists_;
  std::string fault_;
};

}  // namespace

Tally ask(figure::Evaluation& e, const BoundRule& bound, const std::vector<Subject>& subjects,
          std::vector<Finding>* findings) {
  Asking asking(e, bound);
  for (const Subject subject : subjects) asking.ask(subject, findings);
  return asking.take();
}

}  // namespace raceward::checking
