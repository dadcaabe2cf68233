// The figures document of a whole installation.
#include "check/scoped_figures.hpp"
#include "check/subjects.hpp"
#include "facts/writer.hpp"
#include "raceward/engine.hpp"

namespace raceward {

std::string figures_document(const Installation& installation, const Law& law) {
  figure::Evaluation evaluation(installation, law);
  const facts::Shapes shapes;
  facts::Joins joins(evaluation);
  facts::Writer writer(evaluation, joins);
  std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  const facts::Shape& whole = shapes.of(SubjectKind::installation);
  checking::ScopedFigures scoped(installation, law, evaluation);
  writer.write_document(whole, law.id, scoped, out);
  return out;
}

}  // namespace raceward
