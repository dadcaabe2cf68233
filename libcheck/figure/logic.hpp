// Answers that are 1, 0 or missing, put together: what is missing is asked for only where it decides.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

inline Value answer(bool yes, CitationId cite = no_citation) {
  return Evaluation::value(number(yes ? 1 : 0).count(), cite);
}
inline bool is_yes(const Value& v) { return v && v.count != 0; }
inline bool is_no(const Value& v) { return v && v.count == 0; }

inline Value either(Evaluation& e, const Value& a, const Value& b) {
  if (is_yes(a) || is_no(b)) return a;
  if (is_yes(b) || is_no(a)) return b;
  return Evaluation::lacks(e.missing.both(a.missing, b.missing));
}

inline Value both(Evaluation& e, const Value& a, const Value& b) {
  if (is_no(a) || is_yes(b)) return a;
  if (is_no(b) || is_yes(a)) return b;
  return Evaluation::lacks(e.missing.both(a.missing, b.missing));
}

}  // namespace raceward::figure
