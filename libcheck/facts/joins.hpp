// What stands in an element of the figures document: what is written in it, and what the installation joins
// to it.
#pragma once

#include <map>
#include <string_view>
#include <vector>

#include "facts/shape.hpp"
#include "installation/lists.hpp"

namespace raceward::facts {

using installation::Index;
using installation::Lists;

/// An element of the figures document as the installation has it.
struct Node {
  document::Element element = document::Element::unknown;  ///< unknown: a pull section
  Index index = installation::none;                        ///< in its vector of the model
  installation::Offset source = 0;  ///< of its name in the file; 0: nothing is written for it
  Subject subject;                  ///< that it is, or that it is a part of
};

/// Whether a list holds all that there is.
struct Knowledge {
  bool known = true;
  MissingId missing = 0;  ///< why not, where a figure says so
};

/// Made once for each thread of a check; linear in the installation.
class Joins {
 public:
  explicit Joins(figure::Evaluation& e);

  [[nodiscard]] Node node(Subject subject) const;
  /// Adds what stands in an element to `out`.
  Knowledge children(const Node& node, const ChildRow& row, std::vector<Node>& out);

 private:
  Knowledge written(const Node& node, const ChildRow& row, std::vector<Node>& out) const;
  Knowledge pieces(const Node& node, installation::PieceKind kind, document::Element element,
                   std::vector<Node>& out) const;
  Knowledge all(SubjectKind kind, std::vector<Node>& out) const;
  void ends(const Node& node, std::vector<Node>& out) const;
  Knowledge place(const Node& node, std::vector<Node>& out) const;
  Knowledge area(const Node& node, std::vector<Node>& out) const;
  Knowledge raceways(const Node& node, std::vector<Node>& out);
  Knowledge devices(const Node& node, std::vector<Node>& out);
  Knowledge circuits(const Node& node, std::vector<Node>& out);
  Knowledge conductors(const Node& node, std::vector<Node>& out);
  Knowledge attests(const Node& node, std::vector<Node>& out) const;
  Knowledge stated(const Node& node, std::vector<Node>& out) const;
  /// Each once, in the order of the document.
  void add(std::vector<Index>& found, SubjectKind kind, std::vector<Node>& out) const;

  figure::Evaluation& e_;
  const installation::Model& model_;
  Lists of_panel_;                                           // overcurrent devices
  Lists from_device_;                                        // circuits by overcurrent device
  Lists on_circuit_;                                         // devices
  Lists runs_;                                               // by circuit
  std::map<std::string_view, std::vector<Index>> attested_;  // by id
  std::map<std::string_view, std::vector<Index>> stated_;    // facts of a local code, by id
  std::vector<Index> found_;
};

}  // namespace raceward::facts
