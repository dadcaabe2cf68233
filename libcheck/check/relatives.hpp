// What a subject has to do with: the areas that a circuit passes, the circuits of a raceway, the box of a
// device.
//
// A condition that asks for area@use of a circuit means the areas of its places. What is prepared is linear
// in the installation, once for a check.
#pragma once

#include <vector>

#include "figure/figure.hpp"

namespace raceward::checking {

struct Related {
  std::vector<Subject> subjects;      ///< each once, in document order
  MissingId open = 0;                 ///< why there may be more of them; 0: these are all
  MissingId open_to_receptacles = 0;  ///< the same where only receptacles may lack
};

class Relatives {
 public:
  explicit Relatives(figure::Evaluation& e);

  /// The subjects of that kind that the subject has to do with.
  Related of(Subject subject, SubjectKind kind);

 private:
  using Index = installation::Index;
  using List = std::vector<Index>;

  void lacks(MissingId more);
  void places_of(Subject subject, List& out);
  void raceways_of(Subject subject, List& out);
  void runs_of(Subject subject, List& out);
  void circuits_of(Subject subject, List& out);
  void conductors_of(Subject subject, List& out);
  void devices_of(Subject subject, List& out);
  void overcurrent_devices_of(Subject subject, List& out);
  void bonding_jumpers_of(Subject subject, List& out);
  void areas_of(Subject subject, List& out);
  /// Of an area: of what stands in it.
  template <class Each>
  void of_places_in(Index area, Each each);

  figure::Evaluation& e_;
  const installation::Model& model_;
  std::vector<List> devices_on_;    // by circuit
  std::vector<List> protected_by_;  // by overcurrent device: circuits
  std::vector<List> in_panel_;      // by place: overcurrent devices
  std::vector<List> places_in_;     // by area
  std::vector<List> raceways_in_;   // by area
  std::vector<List> jumpers_at_;    // by place
  std::vector<List> jumpers_of_;    // by raceway
  Subject placeless_, routeless_;   // a place and a raceway that say no area, where there are such
  bool some_placeless_ = false, some_routeless_ = false;
  Related found_;
};

}  // namespace raceward::checking
