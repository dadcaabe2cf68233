#include "check/subjects.hpp"

namespace raceward::checking {

namespace {

SubjectKind kind_of(installation::PlaceKind kind) {
  switch (kind) {
    case installation::PlaceKind::panel:
      return SubjectKind::panel;
    case installation::PlaceKind::box:
      return SubjectKind::box;
    case installation::PlaceKind::conduit_body:
      return SubjectKind::conduit_body;
    case installation::PlaceKind::equipment:
      return SubjectKind::equipment;
    case installation::PlaceKind::joint:
      return SubjectKind::joint;
    case installation::PlaceKind::unstated:
      break;
  }
  return SubjectKind::place;
}

}  // namespace

std::vector<Subject> subjects_of(const Installation& in, SubjectKind kind) {
  std::vector<Subject> out = installation::subjects_of(in.model, in.sections, kind);
  if (kind == SubjectKind::place) {
    for (Subject& subject : out) subject.kind = kind_of(in.model.places[subject.index].kind);
  }
  return out;
}

bool has(const Installation& in, Subject subject) {
  if (static_cast<std::size_t>(subject.kind) >= subject_kind_count) return false;
  const std::size_t count = is_place(subject.kind)
                                ? in.model.places.size()
                                : installation::count_of(in.model, in.sections, subject.kind);
  return subject.index < count;
}

const std::vector<Subject>& Subjects::of(SubjectKind kind) {
  std::optional<std::vector<Subject>>& list = lists_[static_cast<std::size_t>(kind)];
  if (!list) list = subjects_of(in_, kind);
  return *list;
}

}  // namespace raceward::checking
