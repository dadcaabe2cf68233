// Installations drawn in a line of text, for tests of what is derived from their structure.
//
//   Sketch s("P1 -R1- B1 -R2- B2; B1 -R3- J1 -R4- B4!");
//   s.run("P1 B2 B4(R2 R3 R4)");
//   s.derive();
//   EXPECT_EQ(s.hops(0), "R1:P1>B1 R2:B1>B2* ...");
//
// The first letter of a place is its kind: P panel, B box, L conduit body, K equipment, J joint. Boxes and
// conduit bodies are accessible; "!" after the id states that one is not, "?" leaves it unstated. A place may
// be named again to go on from it. In a run, raceways in brackets are a stop's via list.
#pragma once

#include <deque>
#include <map>
#include <string>
#include <string_view>

#include "installation/derived.hpp"

namespace raceward::test {

class Sketch {
 public:
  Sketch() = default;
  explicit Sketch(std::string_view drawing);

  /// The place of that id, added where it is new. Marks as above.
  installation::Index place(std::string_view id);
  installation::Index raceway(std::string_view id, installation::Index from, installation::Index to);
  /// The raceway of that id, which must exist.
  [[nodiscard]] installation::Index raceway(std::string_view id) const;
  /// A run of its own circuit, "C1", "C2"... with one conductor "h".
  installation::Index run(std::string_view stops);

  /// Derives graph, routes and sections from what was drawn so far.
  void derive();

  /// Hops of a run: "R1:P1>B1 R2:B1>B2*", with a star where a stop is reached.
  [[nodiscard]] std::string hops(installation::Index run) const;
  /// Ambiguities and faults by stop: "B2 ambiguous", "B3 not joined", "B4 via R7", "B5 too long", joined by
  /// "; ".
  [[nodiscard]] std::string troubles() const;
  /// Raceways whose block may carry the conductors of an ambiguous step, sorted: "R2 R3".
  [[nodiscard]] std::string uncertain() const;
  /// Visits of a place: "run0 stop R1>R2; run1 through R1>R3; run2 stop >R1".
  [[nodiscard]] std::string visits(std::string_view place) const;
  /// Every pull section, sorted: "R1 P1-B1; R3+R4 B1-B4 unsure B4 branches J1".
  [[nodiscard]] std::string sections() const;

  Installation in;

 private:
  std::string_view keep(std::string text);

  std::deque<std::string> texts_;
  std::map<std::string, installation::Index, std::less<>> places_;
  std::map<std::string, installation::Index, std::less<>> raceways_;
};

}  // namespace raceward::test
