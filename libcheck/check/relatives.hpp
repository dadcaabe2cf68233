// What a subject has to do with: the areas that a circuit passes, the circuits of a raceway, the box of a
// device.
//
// A condition that asks for area@use of a circuit means the areas of its places. What is prepared is linear
// in the installation, once for a check.
#pragma once

#include <vector>

#include "figure/figure.hpp"

namespace raceward::checking {

class Relatives {
 public:
  explicit Relatives(figure::Evaluation& e);

  /// The subjects of that kind that the subject has to do with, each once, in document order. `unsure` is set
  /// to an element that does not say which area it is in.
  std::vector<Subject> of(Subject subject, SubjectKind kind, Subject& unsure, bool& is_unsure);

 private:
  using Index = installation::Index;
  using List = std::vector<Index>;

  void places_of(Subject subject, List& out) const;
  void raceways_of(Subject subject, List& out) const;
  void circuits_of(Subject subject, List& out) const;
  void devices_of(Subject subject, List& out) const;
  void overcurrent_devices_of(Subject subject, List& out) const;

  figure::Evaluation& e_;
  const installation::Model& model_;
  std::vector<List> devices_on_;    // by circuit
  std::vector<List> protected_by_;  // by overcurrent device: circuits
  std::vector<List> in_panel_;      // by place: overcurrent devices
};

}  // namespace raceward::checking
