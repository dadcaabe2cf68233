// What raceways hang on: supports that may not carry them.
#include <algorithm>

#include "figure/facts.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// By kind of support: whether it may carry a raceway.
struct Carriers {
  enum class May : std::uint8_t { unknown, yes, no };
  bool ready = false;
  std::vector<May> may;
  std::vector<CitationId> cite;

  void read(const Law& law) {
    ready = true;
    may.resize(terms_with_unstated<SupportKind>());
    cite.assign(may.size(), no_citation);
    const Table* const t = law.table("support-carries");
    if (t == nullptr) return;
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto kind = static_cast<std::size_t>(term_spelt<SupportKind>(t->key(row, 0)));
      if (kind == 0) continue;
      const std::string_view word = t->text(row, t->column("carries"));
      may[kind] = word == "yes" ? May::yes : word == "no" ? May::no : May::unknown;
      cite[kind] = t->cite(row);
    }
  }
};

}  // namespace

Value supports_written(Evaluation& e, Subject s) {
  return Evaluation::value(number(e.model.raceways[s.index].supports.count).count());
}

Value unfit_supports(Evaluation& e, Subject s) {
  auto& carriers = e.once<Carriers>();
  if (!carriers.ready) carriers.read(e.law);
  const Raceway& raceway = e.model.raceways[s.index];
  std::uint32_t unfit = 0;
  MissingId missing = 0;
  CitationId cite = no_citation;
  const std::span supports(e.model.supports.data() + raceway.supports.first, raceway.supports.count);
  for (const Support& support : told_by(e, supports, [](const Support& one) { return one.kind; })) {
    const auto kind = static_cast<std::size_t>(support.kind);
    if (carriers.may[kind] == Carriers::May::yes) continue;
    if (carriers.may[kind] == Carriers::May::no) {
      ++unfit;
      cite = std::min(cite, carriers.cite[kind]);
      e.used(carriers.cite[kind]);
      e.note(FMT_COMPILE("a support is {} ({})"), name_of(support.kind), e.cited(carriers.cite[kind]));
      continue;
    }
    const Value lack = e.lacks(s, "kind", "what it is, such as strap or trapeze", installer,
                               support.kind == SupportKind::unstated
                                   ? std::string()
                                   : std::string("whether such a support may carry a raceway is not known"),
                               support.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (unfit == 0 && missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(unfit).count(), cite);
}

}  // namespace raceward::figure::compute
