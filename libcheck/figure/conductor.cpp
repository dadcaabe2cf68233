// Areas of conductors: from their stated diameter, or from the law's tables by size, insulation and
// construction.
#include "figure/conductor.hpp"

#include <algorithm>

#include "figure/circle.hpp"
#include "figure/run_contents.hpp"

namespace raceward::figure {

using namespace installation;
using raceward::Area;

namespace {

constexpr std::string_view diameter_word = "an outside diameter such as 0.3in";

/// The law's tables of conductors, found once.
struct Tables {
  const Table *groups = nullptr, *insulated = nullptr, *compact = nullptr, *bare = nullptr;
  std::uint32_t group = Table::none;
};

/// A cell of area, or the circle of a cell of diameter where the area is left blank.
Area cell(const Table& table, std::uint32_t row, std::string_view area, std::string_view diameter) {
  const std::int64_t printed = table.count(row, table.column(area, Dimension::area));
  if (printed != Table::blank) return Area::steps(printed);
  const std::int64_t across = table.count(row, table.column(diameter, Dimension::length));
  return across == Table::blank ? Area{} : circle_at_least(Length::steps(across));
}

class KindAreas {
 public:
  bool ready = false;
  std::vector<KindArea> areas;

  void find_all(const Evaluation& e) {
    ready = true;
    tables_ = {e.law.table("insulation-group"), e.law.table("conductor-area"),
               e.law.table("compact-conductor-area"), e.law.table("bare-conductor-area"), Table::none};
    if (tables_.groups != nullptr) tables_.group = tables_.groups->column("group");
    areas.reserve(e.model.conductor_kinds.size());
    for (const ConductorKind& kind : e.model.conductor_kinds) areas.push_back(of(e, kind));
  }

 private:
  [[nodiscard]] KindArea of(const Evaluation& e, const ConductorKind& kind) const {
    if (kind.diameter.known()) return of_diameter(e, kind);
    if (kind.cable) return lacking("diameter", diameter_word);
    if (kind.size == ConductorSize::unstated) return lacking("size", "a size such as 12 AWG");
    if (kind.insulations == 0) return lacking("insulation", "a mark such as THHN, or bare");
    const bool bare = (kind.insulations & bit_of(Insulation::bare)) != 0;
    const bool unstated = kind.construction == Construction::unstated;
    // Stranded is the largest; where nobody says, what the others would spare is kept beside it.
    KindArea found = built(kind, bare && unstated ? Construction::stranded : kind.construction);
    if (found.area > Area{} && unstated) {
      Area least = found.area;
      for (const Construction each : {Construction::compact, Construction::solid}) {
        if (each == Construction::solid && !bare) continue;
        const KindArea other = built(kind, each);
        if (other.area > Area{}) least = std::min(least, other.area);
      }
      found.spare = found.area - least;
    }
    if (found.area > Area{}) return found;
    return lacking("diameter", diameter_word,
                   fmt::format(FMT_COMPILE("the ruleset has no area for {}"), words_of_kind(e, kind)));
  }

  /// The largest of those that its marks stand for, if it were of such a construction.
  [[nodiscard]] KindArea built(ConductorKind kind, Construction construction) const {
    kind.construction = construction;
    KindArea found;
    const auto marks = terms_of(Insulation{});
    for (std::size_t i = 0; i < marks.size(); ++i) {
      if ((kind.insulations >> i & 1) != 0) take_larger(kind, static_cast<Insulation>(i + 1), found);
    }
    return found;
  }

  /// No insulation makes a conductor thinner than its metal.
  [[nodiscard]] KindArea of_diameter(const Evaluation& e, const ConductorKind& kind) const {
    const Area stated = circle_at_least(*kind.diameter);
    const Area metal = kind.cable ? Area{} : least_metal(kind.size);
    if (stated >= metal) return {stated, no_citation, {}, {}, {}};
    return lacking(
        "diameter", diameter_word,
        fmt::format(FMT_COMPILE("{} across is {}, and the bare metal of {} alone is {} at least"),
                    e.text_of(show(*kind.diameter, Unit::inch)), e.text_of(show(stated, Unit::square_inch)),
                    name_of(kind.size), e.text_of(show(metal, Unit::square_inch))));
  }

  /// Of whatever construction; none where the law does not tell.
  [[nodiscard]] Area least_metal(ConductorSize size) const {
    Area least{};
    const auto take = [&](Area area) {
      if (area > Area{} && (least == Area{} || area < least)) least = area;
    };
    for (std::uint32_t r = 0; tables_.bare != nullptr && r < tables_.bare->row_count(); ++r) {
      if (tables_.bare->key(r, 0) == name_of(size)) take(cell(*tables_.bare, r, "area", "diameter"));
    }
    for (std::uint32_t r = 0; tables_.compact != nullptr && r < tables_.compact->row_count(); ++r) {
      if (tables_.compact->key(r, 1) == name_of(size))
        take(cell(*tables_.compact, r, "bare-area", "bare-diameter"));
    }
    return least;
  }

  void take_larger(const ConductorKind& kind, Insulation mark, KindArea& found) const {
    const bool compact = kind.construction == Construction::compact;
    const std::string_view size = name_of(kind.size);
    Area area;
    CitationId cite = no_citation;
    if (mark == Insulation::bare) {
      const Table* table = compact ? tables_.compact : tables_.bare;
      if (table == nullptr) return;
      // Any insulation group's row tells the diameter of the bare compact conductor.
      std::uint32_t row = compact ? Table::none : table->find({size, name_of(kind.construction)});
      for (std::uint32_t r = 0; compact && r < table->row_count() && row == Table::none; ++r) {
        if (table->key(r, 1) == size) row = r;
      }
      if (row == Table::none) return;
      area =
          compact ? cell(*table, row, "bare-area", "bare-diameter") : cell(*table, row, "area", "diameter");
      cite = table->cite(row);
    } else {
      const Table* table = compact ? tables_.compact : tables_.insulated;
      if (table == nullptr || tables_.groups == nullptr) return;
      const std::uint32_t group = tables_.groups->find({name_of(mark)});
      if (group == Table::none) return;
      const std::uint32_t row = table->find({tables_.groups->text(group, tables_.group), size});
      if (row == Table::none) return;
      area = cell(*table, row, "area", "diameter");
      cite = table->cite(row);
    }
    if (area <= found.area) return;
    found.area = area;
    found.cite = cite;
  }

  static KindArea lacking(std::string_view what, std::string_view expects, std::string why = {}) {
    KindArea out;
    out.lacks = what;
    out.expects = expects;
    out.why = std::move(why);
    return out;
  }

  Tables tables_;
};

/// What the conductors in each cable take together, as far as it is known.
struct CableContents {
  bool ready = false;
  std::vector<Area> inside;  // by conductor; empty where there are no cables

  void find_all(Evaluation& e) {
    ready = true;
    for (const Circuit& circuit : e.model.circuits) {
      for (Index i = circuit.conductors.first; i < circuit.conductors.end(); ++i) {
        const Conductor& c = e.model.conductors[i];
        if (c.of_cable == 0) continue;
        inside.resize(e.model.conductors.size());
        inside[circuit.conductors.first + c.of_cable - 1u] += area_of_kind(e, c.kind).area * c.count;
      }
    }
  }
};

/// A cable is no thinner than what lies in it.
MissingId too_thin(Evaluation& e, Index cable, Area area) {
  auto& contents = e.once<CableContents>();
  if (!contents.ready) contents.find_all(e);
  if (contents.inside.empty() || contents.inside[cable] <= area) return 0;
  return e
      .lacks({SubjectKind::conductor, cable}, "diameter", diameter_word, marking,
             fmt::format(FMT_COMPILE("a cable of {}, and the conductors in it take {}"),
                         e.text_of(show(area, Unit::square_inch)),
                         e.text_of(show(contents.inside[cable], Unit::square_inch))),
             e.model.conductors[cable].source)
      .missing;
}

struct RunFills {
  std::vector<RunFill> runs;
  std::vector<Laid> laid;  // kept, so that many runs cost no memory
};

RunFill sum_run(Evaluation& e, Index run, std::vector<Laid>& laid) {
  RunFill out;
  laid_by_run(e.model, run, laid);
  if (laid.empty()) out.missing = without_conductors(e, e.model.runs[run]);
  for (const Laid& each : laid) {
    const Conductor& c = e.model.conductors[each.conductor];
    const KindArea& kind = area_of_kind(e, c.kind);
    out.cables = out.cables || e.model.conductor_kinds[c.kind].cable;
    const bool first = out.each == Area{};  // whose area is known
    out.count += each.count;
    if (!kind.known()) {
      const Value lack = e.lacks({SubjectKind::conductor, each.conductor}, kind.lacks, kind.expects, marking,
                                 kind.why, c.source);
      out.missing = e.missing.both(out.missing, lack.missing);
      continue;
    }
    if (e.model.conductor_kinds[c.kind].cable)
      out.missing = e.missing.both(out.missing, too_thin(e, each.conductor, kind.area));
    out.area += kind.area * each.count;
    out.spare += kind.spare * each.count;
    out.alike = out.alike && (first || kind.area == out.each);
    out.each = kind.area;
    out.cite = kind.cite;
  }
  out.ready = true;
  return out;
}

}  // namespace

const KindArea& area_of_kind(Evaluation& e, Index kind) {
  auto& all = e.once<KindAreas>();
  if (!all.ready) all.find_all(e);
  return all.areas[kind];
}

std::string words_of_kind(const Evaluation& e, const ConductorKind& kind) {
  if (kind.cable) {
    return kind.diameter.known()
               ? fmt::format(FMT_COMPILE("cable {} across"), e.text_of(show(*kind.diameter, Unit::inch)))
               : "cable";
  }
  std::string marks;
  const auto terms = terms_of(Insulation{});
  for (std::size_t i = 0; i < terms.size(); ++i) {
    if ((kind.insulations >> i & 1) == 0) continue;
    if (!marks.empty()) marks += '/';
    marks += terms[i].spelling;
  }
  std::string out(name_of(kind.size));
  if (!marks.empty()) out += ' ' + marks;
  const bool matters =
      kind.construction == Construction::compact || (kind.insulations & bit_of(Insulation::bare)) != 0;
  if (matters && kind.construction != Construction::unstated)
    out += fmt::format(FMT_COMPILE(" {}"), name_of(kind.construction));
  if (kind.diameter.known())
    out += fmt::format(FMT_COMPILE(" {} across"), e.text_of(show(*kind.diameter, Unit::inch)));
  return out;
}

const RunFill& fill_of_run(Evaluation& e, Index run) {
  auto& all = e.once<RunFills>();
  if (all.runs.empty()) all.runs.resize(e.model.runs.size());
  RunFill& fill = all.runs[run];
  if (!fill.ready) fill = sum_run(e, run, all.laid);
  return fill;
}

void laid_by_run(const Model& model, Index run, std::vector<Laid>& out) {
  out.clear();
  const Run& r = model.runs[run];
  const Index first = model.circuits[r.circuit].conductors.first;
  std::size_t cables = 0;  // at the front of `out`
  for (Index i = r.conductors.first; i < r.conductors.end(); ++i) {
    const Index index = model.run_conductors[i];
    const Conductor& c = model.conductors[index];
    const Index cable = c.of_cable != 0 ? first + c.of_cable - 1 : index;
    const bool in_cable = model.conductor_kinds[model.conductors[cable].kind].cable;
    const Index lies_as = in_cable ? cable : index;
    out.push_back({lies_as, std::int64_t{model.conductors[lies_as].count}});
    if (in_cable) std::swap(out.back(), out[cables++]);
  }
  if (cables < 2) return;
  const auto end = out.begin() + static_cast<std::ptrdiff_t>(cables);
  const auto before = [](const Laid& a, const Laid& b) { return a.conductor < b.conductor; };
  const auto same = [](const Laid& a, const Laid& b) { return a.conductor == b.conductor; };
  std::sort(out.begin(), end, before);
  out.erase(std::unique(out.begin(), end, same), end);
}

}  // namespace raceward::figure
