// Whether a suite notices when a law, or an installation, is changed.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// A change that was tried.
struct Mutant {
  std::string what;                  ///< "parameter nipple-length", "rule bend-total", "a support"
  std::string change;                ///< "24in to 25in", "off", "taken away"
  std::string layer;                 ///< of the law; empty for a change of installations
  std::size_t documents = 0;         ///< that it was tried on
  std::size_t noticed_by = 0;        ///< how many of them; of a law the first one is enough
  std::vector<Problem> unnoticed{};  ///< the places of installations where it was not, and what stands there
};

struct Mutation {
  std::vector<Mutant> of_laws;           ///< by layer, then as the layer has them
  std::vector<Mutant> of_installations;  ///< a line a kind of change: `documents` counts the places
  std::vector<Problem> problems;         ///< what could not be read
  std::vector<Problem> left_out;         ///< documents that are not as expected to begin with
};

/// Changes one thing at a time: each number of each law one step up and down in the last place that it is
/// written to, each row and each word taken away, each rule off or of another force, each number in a
/// condition or an expression; in installations a support, a grounding conductor, a box, a device. A change
/// of a number is tried on the documents that rest on it, which must be as expected before. Of two rulesets
/// that a document is judged between, one is changed at a time.
Mutation mutate(std::vector<Document> documents, const Choice& choice,
                const std::function<void(std::size_t done, std::size_t all)>& told = {});

std::string text_of(const Mutation& mutation);
std::string json_of(const Mutation& mutation);

}  // namespace raceward::suite
