// Subjects as elements of the figures document.
#pragma once

#include <string>
#include <vector>

#include "facts/joins.hpp"
#include "facts/shape.hpp"

namespace raceward::facts {

/// What of an element is wanted; in the order of the shape, each once.
struct Wanted {
  std::vector<const FactRow*> facts;
  std::vector<const figure::Info*> figures;
  std::vector<const DeclaredFact*> stated;
  struct Part;
  std::vector<Part> parts;
};
struct Wanted::Part {
  const ChildRow* row = nullptr;
  Wanted of;
};
/// All that there is, with what a law declares.
Wanted everything(const Shape& shape, const Law& law);

/// Where an element that was written comes from, and what of its lists is not known.
struct Origin {
  Node node;
  struct Unknown {
    const ChildRow* row = nullptr;
    MissingId missing = 0;  ///< 0: nobody says it
  };
  std::vector<Unknown> unknown;
};

/// Whole numbers beyond it are not held by the numbers of XPath: such a fact counts as unknown.
inline constexpr std::int64_t largest_exact = std::int64_t{1} << 53;

/// False for a figure that measures nothing at this subject, so that its 0 would mislead.
bool measures_something(figure::Evaluation& e, figure::Id id, Subject subject);

/// Figures where a law has conditions: as they are under what holds of a subject.
class FiguresUnder {
 public:
  struct Told {
    figure::Value value;
    figure::Evaluation* in = nullptr;  ///< whose pool names what is missing
    bool open = false;                 ///< missing because it is not known what holds
  };
  virtual ~FiguresUnder() = default;
  virtual Told of(figure::Id id, Subject subject, Subject about) = 0;
};

class Writer {
 public:
  Writer(figure::Evaluation& e, Joins& joins) : e_(e), joins_(joins) {}

  /// Adds the element of a subject. With `origins`, elements bear their number there as attribute _; without,
  /// what is missing of figures is written, and amounts once more for people.
  void write(Subject subject, const Wanted& wanted, std::string& out, std::vector<Origin>* origins);
  /// Adds the element of the whole installation with all that there is, a line a subject, whose figures are
  /// told as rules about it are asked.
  void write_document(const Shape& whole, std::string_view ruleset, FiguresUnder& figures, std::string& out);

 private:
  void element(const Node& node, std::string_view name, const Wanted& wanted);
  void parts(const Node& node, std::size_t origin, const Wanted& wanted);
  void facts(const Node& node, const Wanted& wanted);
  void fact(const FactRow& row, std::string_view value);
  void derived(const Node& node, const Wanted& wanted);
  void amount(std::string_view name, const Holds& holds, std::int64_t count);
  void attribute(std::string_view name, std::string_view value);
  void figures(Subject subject, const Wanted& wanted);
  void missing(const figure::Info& info, const FiguresUnder::Told& told);
  void stated(Subject subject, const Wanted& wanted);

  figure::Evaluation& e_;
  Joins& joins_;
  std::string* out_ = nullptr;
  std::vector<Origin>* origins_ = nullptr;
  std::string_view ruleset_;       // of a whole document
  FiguresUnder* under_ = nullptr;  // of a whole document
  Subject about_{};                // whose line is written
  int level_ = 0;                  // elements that stand around what is written
  std::vector<char> done_;
};

}  // namespace raceward::facts
