// Facts that only an eye can judge, and that figures take the word of an attest for.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// What somebody attests: <attest fact="..." of="...">.
enum class Attested : std::uint8_t {
#define RACEWARD_ATTESTED(name, word, of, meaning) name,
#include "figure/attested.def"
#undef RACEWARD_ATTESTED
};

struct AttestedRow {
  std::string_view word;
  SubjectKind of;
  std::string_view meaning;
};

/// By number of Attested; sorted by word.
inline constexpr AttestedRow attested_rows[] = {
#define RACEWARD_ATTESTED(name, word, of, meaning) {word, SubjectKind::of, meaning},
#include "figure/attested.def"
#undef RACEWARD_ATTESTED
};

constexpr std::string_view word_of(Attested fact) {
  return attested_rows[static_cast<std::size_t>(fact)].word;
}

struct Attestations {
  std::vector<std::pair<std::string_view, std::string_view>> facts;  // of, fact; sorted
  bool ready = false;
};
/// Whether somebody attests it of the element with that id.
bool attested(Evaluation& e, Attested fact, std::string_view of);

/// For the headline of a violation that an exception would lift: which attest would settle it.
std::string unless_attested(Attested fact, std::string_view of);

}  // namespace raceward::figure
