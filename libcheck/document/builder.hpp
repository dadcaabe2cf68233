// Fills a Model from what is written, children of the root one after another, and joins ids to what they name
// at the end.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "document/faults.hpp"
#include "document/fields.hpp"
#include "document/id_table.hpp"
#include "document/kinds.hpp"
#include "document/links.hpp"
#include "document/memory.hpp"
#include "document/reader.hpp"
#include "document/written.hpp"
#include "installation/model.hpp"

namespace raceward::document {

class Builder {
 public:
  /// model.bytes hold the file and stay where they are.
  Builder(installation::Model& model, Faults& faults);

  /// Reads the root's start tag. False where the document is not ours.
  bool root(const Written& written);
  /// Reads some children of the root.
  void children(const Written& written);
  /// Touches some memory that will be written, on whatever thread has the time; false where none is left.
  bool touch_ahead() { return ahead_.some(); }
  /// Joins ids, on two threads where that is quicker and `threads` is not 1. After it the model is whole,
  /// unless there are faults.
  void finish(unsigned threads);
  /// True where every raceway joins two places and every stop and via is known, so that routes can be
  /// derived, whatever else is wrong.
  [[nodiscard]] bool can_derive() const;

 private:
  using Index = installation::Index;
  using Offset = installation::Offset;

  void reserve();
  void child_of_root(const WrittenElement& node, Element element);
  void area();
  void panel(const WrittenElement& node);
  void box(const WrittenElement& node);
  void conduit_body(const WrittenElement& node);
  void equipment();
  void joint();
  installation::Place& new_place(installation::PlaceKind kind, unsigned id, unsigned name, unsigned area);
  void position(installation::Place& place, unsigned at);
  void overcurrent_device(Index panel);
  void cover(Index box, Element element);
  void spacing(Index at_place);
  void raceway(const WrittenElement& node);
  void end(installation::Raceway& raceway, std::string_view from, std::string_view to);
  void piece(Element element);
  void point();
  void support();
  void finish_course(installation::Raceway& raceway, Offset first_piece, Offset first_point);
  void circuit(const WrittenElement& node, Element element);
  void conductor(Index circuit);
  void lay_in_cables(const installation::Circuit& circuit);
  void run(const WrittenElement& node, Index circuit);
  void run_conductors(installation::Run& run, const installation::Circuit& circuit);
  void lay(Index first, Index conductor, Index run);
  void stop(Index run);
  void finish_runs(const installation::Circuit& circuit);
  void device();
  void bonding_jumper();
  void attestation();
  void stated_fact();
  void waiver();

  /// Elements within `parent`, each with its attributes read into fields_; others are reported and passed
  /// over.
  template <class Each>
  void each_child(const WrittenElement& parent, Element element, const Each& each);
  /// The same for those of which where(Element) is true; the others are left alone.
  template <class Where, class Each>
  void each_child_where(const WrittenElement& parent, Element element, const Where& where, const Each& each);
  template <class Each>
  void one_child(const WrittenElement& child, Element parent, const Each& each);
  void misplaced(const WrittenElement& node, Element parent);
  /// An id of fields_ that must name something, to be joined by finish().
  void link(Link link, Index owner, unsigned position);
  /// Ids of a list, each into its own place of a vector of the model.
  installation::Range link_all(Link link, std::vector<Index>& into, unsigned position);
  void fault(Offset element, std::string_view attribute, std::string message);

  installation::Model& model_;
  Faults& faults_;
  Reader reader_;
  Fields fields_;
  TouchAhead ahead_;
  std::vector<Pending> pending_;
  KindTable kinds_;
  static constexpr Index most_conductors = 0xffff;  // of a circuit, before its last cable
  static constexpr Index another_run = installation::none - 1;
  bool gaps_ = false;  // an element was passed over: what it would have joined is not known
  // Of the circuit being read.
  std::vector<Index> last_run_of_conductor_;  // none where it lies in no run yet
  std::vector<Index> runs_of_all_;            // that take every conductor
  bool runs_are_whole_ = true;                // every id in their lists named a conductor
  std::vector<std::string_view> cables_;
  LocalIds local_ids_;
  installation::Range all_conductors_;
};

}  // namespace raceward::document
