// A law with what checks learn of it alone.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "check/unread.hpp"
#include "raceward/engine.hpp"

namespace raceward {

class ReadyLaw {
 public:
  ReadyLaw(std::shared_ptr<const Law> of, const std::vector<const Rule*>& extra_rules);

  const std::shared_ptr<const Law> law;
  std::vector<const Rule*> doubles;  ///< rules that bear the name of another
  const std::vector<checking::BoundRule> rules;
  const checking::WordsRead words;
  const std::shared_ptr<figure::LawNotes> notes;
  const std::vector<std::string> cautions;
};

}  // namespace raceward
