#include "check/batch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>

#include "check/subjects.hpp"

namespace raceward::checking {

namespace {

/// What stands in a verdict until somebody writes one.
constexpr std::uint32_t unwritten = 0xa5a5a5a5u;
/// Of what a module says of its own failure.
constexpr std::size_t longest_fault = 400;

Reading reading_of(const raceward_reading& r) {
  return {{r.count, static_cast<Unit>(r.unit)},
          r.missing,
          r.cite,
          {static_cast<SubjectKind>(r.place.kind), r.place.index}};
}

raceward_reading reading_of(const Reading& r) {
  return {r.amount.count,
          static_cast<std::uint32_t>(r.amount.unit),
          r.missing,
          r.cite,
          0,
          {static_cast<std::uint32_t>(r.place.kind), r.place.index}};
}

/// A verdict that nobody has written, but for what an older module does not know.
raceward_verdict blank() {
  raceward_verdict v{};
  v.outcome = unwritten;
  return v;
}

bool untouched(const raceward_verdict& v) {
  const raceward_verdict pristine = blank();
  return std::memcmp(&v, &pristine, sizeof(v)) == 0;
}

}  // namespace

/// What a module calls. Nothing of ours passes the border: it is kept and thrown on our side.
struct Batch::Calls {
  template <class Work>
  static std::int32_t guarded(void* host, const Work& work) noexcept {
    Batch& batch = *static_cast<Batch*>(host);
    try {
      if (!batch.alive()) return RACEWARD_STOP;
      work(batch);
      return RACEWARD_DONE;
    } catch (...) {
      batch.thrown_ = std::current_exception();
      return RACEWARD_STOP;
    }
  }

  static std::int32_t figure(void* host, std::uint32_t subject, std::uint32_t position,
                             raceward_reading* out) noexcept {
    return guarded(host, [&](Batch& batch) {
      batch.turn_to(subject);
      *out = reading_of(batch.context_.figure(position));
    });
  }

  static std::int32_t parameter(void* host, std::uint32_t subject, std::uint32_t position,
                                raceward_reading* out) noexcept {
    return guarded(host, [&](Batch& batch) {
      batch.turn_to(subject);
      *out = reading_of(batch.context_.parameter(position));
    });
  }

  static std::int32_t both(void* host, std::uint32_t a, std::uint32_t b, std::uint32_t* out) noexcept {
    return guarded(host, [&](Batch& batch) { *out = batch.context_.both(a, b); });
  }

  static std::int32_t failed(void* host, std::uint32_t subject, raceward_text why) noexcept {
    return guarded(host, [&](Batch& batch) {
      const bool said = why.bytes != nullptr && why.size > 0;
      const std::string text = said ? std::string(why.bytes, std::min(why.size, longest_fault)) : "";
      batch.blame(subject, text.empty() ? "it threw" : "it threw: " + text);
    });
  }
};

/// A call came; false where the batch is given up.
bool Batch::alive() {
  if (thrown_ || !fault_of_all_.empty()) return false;
  if (progress_ != nullptr) ++progress_->beats;
  if (++calls_ <= most_calls * subjects_.size()) return true;
  fault_of_all_ = fmt::format("it reads without end: more than {} times a subject", most_calls);
  return false;
}

void Batch::turn_to(std::uint32_t subject) {
  if (subject >= subjects_.size()) {
    blame(subject, {});
    subject = 0;
  }
  if (subject == turned_to_) return;
  blame(turned_to_, context_.fault());
  turned_to_ = subject;
  const raceward_subject& s = subjects_[subject];
  context_.about({static_cast<SubjectKind>(s.kind), s.index});
}

/// The first fault of a subject counts. An empty one is none.
void Batch::blame(std::uint32_t subject, std::string fault) {
  if (subject >= subjects_.size()) {
    fault_of_all_ = fmt::format("it asks of subject {} of {}", subject, subjects_.size());
  } else if (faults_[subject].empty()) {
    faults_[subject] = std::move(fault);
  }
}

const char* Batch::nonsense_of(const raceward_reading& r) const {
  if (r.unit > RACEWARD_MILLIOHM) return "it answers with a value of an unknown unit";
  if (r.count == INT64_MIN) return "it answers with a value that is none";
  if (r.missing >= e_.missing.size()) return "it names missing facts that there are not";
  if (r.cite != no_citation && r.cite >= e_.law.citations.size())
    return "it cites what the law does not hold";
  if (r.place.kind >= subject_kind_count ||
      !has(e_.in, {static_cast<SubjectKind>(r.place.kind), r.place.index})) {
    return "it speaks of an element that there is not";
  }
  return nullptr;
}

Answer Batch::answer_of(const raceward_verdict& theirs, std::uint32_t subject) const {
  if (!fault_of_all_.empty()) return {{}, fault_of_all_};
  if (!faults_[subject].empty()) return {{}, faults_[subject]};
  if (theirs.outcome == unwritten) return {{}, "it gives no answer"};
  if (theirs.outcome > RACEWARD_NOT_APPLICABLE) return {{}, "it answers with an unknown verdict"};
  if ((theirs.has & ~std::uint32_t{RACEWARD_HAS_MEASURED | RACEWARD_HAS_LIMIT}) != 0)
    return {{}, "it answers with values of an unknown kind"};
  Verdict v;
  v.outcome = static_cast<Outcome>(theirs.outcome);
  v.message = theirs.message;
  v.missing = theirs.missing;
  v.has_measured = (theirs.has & RACEWARD_HAS_MEASURED) != 0;
  v.has_limit = (theirs.has & RACEWARD_HAS_LIMIT) != 0;
  for (const auto* value :
       {v.has_measured ? &theirs.measured : nullptr, v.has_limit ? &theirs.limit : nullptr}) {
    const char* const nonsense = value == nullptr ? nullptr : nonsense_of(*value);
    if (nonsense != nullptr) return {{}, nonsense};
  }
  if (v.has_measured) v.measured = reading_of(theirs.measured);
  if (v.has_limit) v.limit = reading_of(theirs.limit);
  if (v.has_measured && v.has_limit &&
      dimension_of(v.measured.amount.unit) != dimension_of(v.limit.amount.unit))
    return {{}, "it compares different kinds of quantities"};
  return {v, {}};
}

void Batch::call(std::span<const Subject> subjects) {
  static constexpr raceward_calls calls{sizeof(raceward_calls), &Calls::figure, &Calls::parameter,
                                        &Calls::both, &Calls::failed};
  subjects_.clear();
  for (const Subject& s : subjects) subjects_.push_back({static_cast<std::uint32_t>(s.kind), s.index});
  verdicts_.assign(subjects.size() + 1, blank());
  faults_.assign(subjects.size(), {});
  fault_of_all_.clear();
  thrown_ = nullptr;
  calls_ = 0;
  turned_to_ = 0;
  if (progress_ != nullptr) ++progress_->beats;
  context_.about(subjects.front());

  // A copy for them to read: whoever writes into it hurts himself only.
  const std::vector<raceward_subject> shown = subjects_;
  const raceward_batch batch{sizeof(raceward_batch),
                             static_cast<std::uint32_t>(subjects.size()),
                             sizeof(raceward_verdict),
                             shown.data(),
                             verdicts_.data(),
                             &calls,
                             this};
  try {
    bound_.rule->compiled->judge(batch);
  } catch (...) {
    fault_of_all_ = "it threw, across the border to its host";
  }
  if (thrown_) std::rethrow_exception(thrown_);
  blame(turned_to_, context_.fault());
  context_.about(subjects.front());  // so that its fault is not told twice
  if (!untouched(verdicts_.back())) fault_of_all_ = "it answers for more subjects than it was asked of";
}

void Batch::ask(std::span<const Subject> subjects, std::vector<Answer>& answers) {
  answers.clear();
  if (subjects.empty()) return;
  call(subjects);
  for (std::uint32_t i = 0; i < subjects.size(); ++i) answers.push_back(answer_of(verdicts_[i], i));
}

}  // namespace raceward::checking
