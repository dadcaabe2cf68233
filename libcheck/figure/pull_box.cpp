// Dimensions of boxes and conduit bodies that large conductors are pulled through.
//
// Method: each run of large conductors makes a pull at the place: straight where it enters and leaves through
// opposite walls unbroken; else an angle, a U or a splice. The law gives the factors by the trade size of the
// raceways.
#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "figure/conduit_body.hpp"
#include "figure/first_by_id.hpp"
#include "figure/logic.hpp"
#include "figure/pull_entries.hpp"
#include "figure/run_contents.hpp"

namespace raceward::figure {

namespace {

using namespace installation;

/// A trade size as the length that the pull factors multiply ("1-1/4" is 1-1/4 in).
std::optional<Length> diameter(TradeSize size) {
  if (size == TradeSize::unstated) return {};
  const auto parsed = parse_length(std::string(name_of(size)) + "in");
  return parsed ? std::optional<Length>(*parsed) : std::nullopt;
}

std::uint8_t opposite(std::uint8_t wall) {
  return wall == 0 ? 0 : static_cast<std::uint8_t>(((wall - 1) ^ 1) + 1);
}

Length times(const Parameter* factor, Length length) {
  return Length::steps(detail::saturate(wide_int{factor->value.count} * length.count() / 1'000'000'000));
}

/// The tightest requirement found so far: what there is, and what is asked.
struct Tightest {
  std::int64_t pulls = 0;
  MissingId missing = 0;
  bool any = false;
  Length available, needed;
  CitationId cite = no_citation;
  Subject place{};

  [[nodiscard]] Length lack() const { return needed - available; }
  [[nodiscard]] bool too_small() const { return any && available < needed; }

  void take(Length has, Length asks, CitationId by, Subject about) {
    if (any && lack() >= asks - has) return;
    any = true;
    available = has;
    needed = asks;
    cite = by;
    place = about;
  }
};

/// A raceway's entry into the place.
struct Entry {
  const RacewayEnd* end = nullptr;
  Index raceway = none;
  explicit operator bool() const { return end != nullptr; }
};

/// How conductors get through the box.
enum class Way : char {
  straight,  ///< by opposite walls, unbroken
  turned,    ///< in an angle or a U, or not unbroken
  unstated,  ///< by opposite walls, whether unbroken or not
};

/// What leaves open whether a run is large. A large conductor among the others settles that.
MissingId unsized(Evaluation& e, const RunContents& run) {
  return run.large() ? run.unsized : e.missing.both(run.unsized, run.unranked);
}

/// A step of large conductors that could be taken by several ways, found once for all places.
struct LargeStep {
  bool ready = false;
  MissingId missing = 0;
};

/// Where ways branch, large conductors may pass a place or not, and by other entries than those known.
MissingId ambiguous_pulls(Evaluation& e, Index place) {
  const auto& blocks = e.in.routes.block_ambiguity;
  const auto around = e.in.graph.at(place);
  const bool branches = std::any_of(around.begin(), around.end(), [&](const Adjacent& next) {
    return blocks[e.in.graph.block[next.raceway]] != none;
  });
  if (!branches) return 0;
  auto& step = e.once<LargeStep>();
  if (step.ready) return step.missing;
  step.ready = true;
  const Ambiguity* first = nullptr;
  for (const Ambiguity& each : e.in.routes.ambiguities) {
    if (first != nullptr && !told_before(e.model, each, *first)) continue;
    const RunContents& run = run_contents(e, each.run);
    if (run.large() || unsized(e, run) != 0) first = &each;
  }
  if (first != nullptr) {
    const Ambiguity& each = *first;
    const Stop& stop = e.model.stops[each.stop];
    step.missing =
        e.lacks({SubjectKind::circuit, e.model.runs[each.run].circuit}, "via",
                "the raceways that the run takes", designer,
                fmt::format(
                    FMT_COMPILE("more than one way leads to {}, so large conductors may pass here or not"),
                    e.model.places[stop.place].id),
                stop.source)
            .missing;
  }
  return step.missing;
}

class Pulls {
 public:
  Pulls(Evaluation& e, Subject place) : e_(e), s_(place), place_(e.model.places[place.index]) {}

  /// Dimensions of the place against straight, angle and U pulls and splices.
  Tightest dimensions() {
    const Parameter* straight = e_.law.parameter("straight-pull-factor", Dimension::none);
    const Parameter* angle = e_.law.parameter("angle-pull-factor", Dimension::none);
    if (!large_is_known(e_)) return without_law(smallest_large_conductor);
    if (straight == nullptr || angle == nullptr)
      return without_law("straight-pull-factor, angle-pull-factor");
    const MissingId ambiguous = ambiguous_pulls(e_, s_.index);
    out_.missing = e_.missing.both(ambiguous, e_.missing.both(hubs_denied(e_, s_), entries_denied(e_, s_)));
    for (const Visit& visit : told_visits()) {
      if (!large(visit)) continue;
      ++out_.pulls;
      const Entry in = entry(visit.hop_in);
      const Entry out = entry(visit.hop_out);
      if (!stated(in) || !stated(out)) continue;
      // It may go on by one of several ways: no angle that is certain.
      if (ambiguous != 0 && (!in || !out)) continue;
      const Way way = way_of(visit, in, out);
      const Way grounding = way_of_grounding(visit, way, in, out);
      if (grounding != way && grounding == Way::straight) pull_straight(in, out, straight);
      if (grounding != way && grounding == Way::turned) turn(in, out, angle);
      const Tightest others = out_;
      if (way != Way::turned) pull_straight(in, out, straight);
      const Tightest unbroken = out_;
      if (way == Way::unstated) out_ = others;
      if (way != Way::straight) turn(in, out, angle);
      if (way == Way::unstated && !others.too_small()) {
        if (unbroken.too_small() != out_.too_small()) {
          out_ = others;
          lack_treatment(visit);
        } else if (unbroken.any && (!out_.any || unbroken.lack() < out_.lack()) == unbroken.too_small()) {
          // Too small either way: the milder is certain. Large enough either way: the stricter.
          const MissingId missing = e_.missing.both(unbroken.missing, out_.missing);
          out_ = unbroken;
          out_.missing = missing;
        }
      }
    }
    return out_;
  }

  /// Distances between the two entries of the same conductors, for angle and U pulls.
  Tightest spacings() {
    const Parameter* factor = e_.law.parameter("entry-spacing-factor", Dimension::none);
    if (!large_is_known(e_)) return without_law(smallest_large_conductor);
    if (factor == nullptr) return without_law("entry-spacing-factor");
    out_.missing = ambiguous_pulls(e_, s_.index);
    for (const Visit& visit : told_visits()) {
      if (!visit.arrives || !visit.leaves || !large(visit)) continue;
      const Entry in = entry(visit.hop_in);
      const Entry out = entry(visit.hop_out);
      if (!stated(in) || !stated(out)) continue;
      const Way way = way_of(visit, in, out);
      if (way == Way::straight) continue;
      ++out_.pulls;
      if (way == Way::unstated) {
        lack_treatment(visit);
        continue;
      }
      spacing(in, out, times(factor, std::max(size_of(in), size_of(out))), factor);
    }
    return out_;
  }

 private:
  [[nodiscard]] std::vector<Visit> told_visits() const {
    const auto all = e_.in.routes.visits_at(s_.index);
    std::vector<Visit> visits(all.begin(), all.end());
    if (e_.noting())
      std::ranges::stable_sort(visits,
                               [&](const Visit& a, const Visit& b) { return run_before(e_, a.run, b.run); });
    return visits;
  }

  Tightest without_law(std::string_view what) {
    out_.missing = e_.lacks_law(what).missing;
    return out_;
  }

  void lack(Subject element, std::string_view name, std::string_view expects, std::string why = {},
            Offset source = 0) {
    out_.missing = e_.missing.both(
        out_.missing, e_.lacks(element, name, expects, installer_tape, std::move(why), source).missing);
  }

  bool large(const Visit& visit) {
    const RunContents& run = run_contents(e_, visit.run);
    out_.missing = e_.missing.both(out_.missing, unsized(e_, run));
    return run.large();
  }

  void pull_straight(const Entry& in, const Entry& out, const Parameter* factor) {
    const Length size = std::max(size_of(in), size_of(out));
    measure(in, times(factor, size), factor->cite, "straight pull", [&] {
      return fmt::format(FMT_COMPILE("{} x {}"), factor->text, e_.text_of(show(size, Unit::inch)));
    });
  }

  void turn(const Entry& in, const Entry& out, const Parameter* factor) {
    for (const Entry& each : {in, out}) {
      if (each) row(each, factor);
    }
  }

  Way way_of(const Visit& visit, const Entry& in, const Entry& out) const {
    if (!in || !out || in.end->wall != opposite(out.end->wall)) return Way::turned;
    if (visit.stop == none) return Way::straight;
    return way_by(e_.model.stops[visit.stop].ungrounded);
  }

  /// The way of large grounding conductors, where the stop treats them differently; else that of the others.
  Way way_of_grounding(const Visit& visit, Way others, const Entry& in, const Entry& out) {
    const RunContents& run = run_contents(e_, visit.run);
    if (visit.stop == none || (!run.large_grounding && run.covering == 0)) return others;
    if (!in || !out || in.end->wall != opposite(out.end->wall)) return others;
    const StopTreatment grounding = e_.model.stops[visit.stop].grounding;
    if (grounding == StopTreatment::unstated || way_by(grounding) == others) return others;
    if (run.large_grounding) return way_by(grounding);
    out_.missing = e_.missing.both(out_.missing, run.covering);
    return others;
  }

  static Way way_by(StopTreatment treatment) {
    switch (treatment) {
      case StopTreatment::through:
      case StopTreatment::looped:
        return Way::straight;
      case StopTreatment::unstated:
        return Way::unstated;
      default:
        return Way::turned;
    }
  }

  void lack_treatment(const Visit& visit) {
    out_.missing = e_.missing.both(
        out_.missing,
        e_.lacks(s_, "conductors", "terminated, spliced, through or looped", installer,
                 "a straight pull and a splice ask for different room", e_.model.stops[visit.stop].source)
            .missing);
  }

  Entry entry_of(Index raceway) const {
    const Raceway& r = e_.model.raceways[raceway];
    return {r.ends[0].place == s_.index ? &r.ends[0] : &r.ends[1], raceway};
  }
  Entry entry(Index hop) const { return hop == none ? Entry{} : entry_of(e_.in.routes.hops[hop].raceway); }

  Length size_of(const Entry& at) const {
    return diameter(e_.model.raceways[at.raceway].trade_size).value_or(Length{});
  }

  /// Wall and trade size of an entry are needed; says what is missing.
  bool stated(const Entry& at) {
    if (!at) return true;
    const Raceway& raceway = e_.model.raceways[at.raceway];
    const Subject subject{SubjectKind::raceway, at.raceway};
    if (at.end->wall == 0) {
      lack(subject, "wall", "the wall of the box that it enters: left, right, top, bottom, back or front", {},
           at.end->source);
      return false;
    }
    if (at.end->wall > 4) {  // not law: the four side walls come first
      lack(subject, "wall", "nothing: measure on site from that wall to the cover",
           "an entry opposite the cover is measured by another table that is not here", at.end->source);
      return false;
    }
    if (!diameter(raceway.trade_size)) {
      lack(subject, "trade-size", "a trade size such as 2", {}, raceway.source);
      return false;
    }
    return true;
  }

  /// How far it is from a side wall to the opposite one.
  [[nodiscard]] Maybe<Length> across(std::uint8_t wall) const {
    return wall <= 2 ? place_.width : place_.height;  // not law: left and right come first
  }

  /// The inside dimension across from the wall of an entry. `sum` writes the arithmetic, where somebody asks.
  template <class Sum>
  void measure(const Entry& at, Length asks, CitationId cite, std::string_view what, Sum sum) {
    const Maybe<Length> has = across(at.end->wall);
    if (!has.known()) {
      lack(s_, at.end->wall <= 2 ? "width" : "height", "the inside dimension, a length such as 16in");
      return;
    }
    if (e_.noting()) {
      e_.note(FMT_COMPILE("{} at raceway {} ({} wall): {} = {}; the box has {} from that wall"), what,
              e_.model.raceways[at.raceway].id, wall_words[at.end->wall], sum(),
              e_.text_of(show(asks, Unit::inch)), e_.text_of(show(*has, Unit::inch)));
      e_.used(cite);
    }
    out_.take(*has, asks, cite, {SubjectKind::raceway, at.raceway});
  }

  /// Entries of one wall and row, summed once a place.
  struct Row {
    std::uint32_t key = 0;  // wall and row
    Length largest, sum;
    Index unsized_raceway = none;
  };

  void sum_rows() {
    if (!rows_.empty()) return;
    for (const Adjacent& next : e_.in.graph.at(s_.index)) {
      const Entry at = entry_of(next.raceway);
      ++on_wall_[at.end->wall];
      if (at.end->row == 0) rowless_ |= 1u << at.end->wall;
      const auto size = diameter(e_.model.raceways[next.raceway].trade_size);
      const Length length = size.value_or(Length{});
      rows_.push_back({key(at), length, length, size ? none : next.raceway});
    }
    std::sort(rows_.begin(), rows_.end(), [](const Row& a, const Row& b) { return a.key < b.key; });
    std::size_t last = 0;
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      if (rows_[i].key != rows_[last].key) {
        rows_[++last] = rows_[i];
        continue;
      }
      rows_[last].largest = std::max(rows_[last].largest, rows_[i].largest);
      rows_[last].sum += rows_[i].sum;
      hold_first(e_.model.raceways, rows_[last].unsized_raceway, rows_[i].unsized_raceway);
    }
    rows_.resize(std::min(rows_.size(), last + 1));
  }

  static std::uint32_t key(const Entry& at) { return std::uint32_t{at.end->wall} << 8 | at.end->row; }

  /// Angle, U pull or splice: the largest of the row by the factor, and the others of the row once each.
  void row(const Entry& at, const Parameter* factor) {
    sum_rows();
    if (on_wall_[0] != 0) return unstated_walls();
    if (on_wall_[at.end->wall] > 1 && (rowless_ >> at.end->wall & 1) != 0) return unstated_rows(at.end->wall);
    const auto found = std::lower_bound(rows_.begin(), rows_.end(), key(at),
                                        [](const Row& r, std::uint32_t wanted) { return r.key < wanted; });
    if (found->unsized_raceway != none) {
      lack({SubjectKind::raceway, found->unsized_raceway}, "trade-size", "a trade size such as 2", {},
           e_.model.raceways[found->unsized_raceway].source);
      return;
    }
    const Length others = found->sum - found->largest;
    measure(at, times(factor, found->largest) + others, factor->cite, "angle or U pull or splice", [&] {
      return fmt::format(FMT_COMPILE("{} x {} + {} for the others of the row"), factor->text,
                         e_.text_of(show(found->largest, Unit::inch)), e_.text_of(show(others, Unit::inch)));
    });
  }

  /// Entries of a wall whose row is not stated, told once: then none of it is left.
  void unstated_rows(std::uint8_t wall) {
    if ((rows_told_ >> wall & 1) != 0) return;
    rows_told_ |= 1u << wall;
    for (const Adjacent& next : e_.in.graph.at(s_.index)) {
      const Entry at = entry_of(next.raceway);
      if (at.end->wall != wall || at.end->row != 0) continue;
      lack({SubjectKind::raceway, next.raceway}, "row", "the row of entries on that wall, counted from 1", {},
           at.end->source);
    }
  }

  /// Entries of the box whose wall is not stated, told once.
  void unstated_walls() {
    if (std::exchange(walls_told_, true)) return;
    for (const Adjacent& next : e_.in.graph.at(s_.index)) {
      const Entry at = entry_of(next.raceway);
      if (at.end->wall != 0) continue;
      lack({SubjectKind::raceway, next.raceway}, "wall",
           "the wall of the box that it enters: left, right, top, bottom, back or front",
           "it may stand in the same row as an entry of large conductors", at.end->source);
    }
  }

  /// Whether the inside of the box has room for such a distance, as far as its dimensions are known.
  [[nodiscard]] bool fits(Length distance) const {
    wide_int square = 0;
    for (const Maybe<Length> side : {place_.width, place_.height, place_.depth}) {
      if (!side.known()) return true;
      square += wide_int{(*side).count()} * (*side).count();
    }
    return wide_int{distance.count()} * distance.count() <= square;
  }

  /// Two entries of one wall are no farther apart than it is from corner to corner, less what both take.
  [[nodiscard]] bool fits_on_wall(const Entry& a, const Entry& b, Length distance) const {
    const std::uint8_t wall = a.end->wall;
    if (wall != b.end->wall || wall == 0) return true;
    const bool side = wall <= 2, level = wall == 3 || wall == 4;  // not law: left, right; top, bottom
    const Maybe<Length> across = side ? place_.height : place_.width;
    const Maybe<Length> along = side || level ? place_.depth : place_.height;
    if (!across.known() || !along.known()) return true;
    const auto squared = [](Length of) { return wide_int{of.count()} * of.count(); };
    return squared(distance + size_of(a) + size_of(b)) <= squared(*across) + squared(*along);
  }

  /// Entries of opposite walls are no nearer to each other than the walls are.
  bool far_enough_across(const Entry& in, const Entry& out, Length asks, const Parameter* factor) {
    if (in.end->wall != opposite(out.end->wall)) return false;
    const Maybe<Length> has = across(in.end->wall);
    if (!has.known() || *has < asks) return false;
    if (e_.noting()) {
      e_.note(
          FMT_COMPILE("entries of raceways {} and {}, on opposite walls: {} x the larger trade size = {}; "
                      "the walls are {} apart"),
          e_.model.raceways[in.raceway].id, e_.model.raceways[out.raceway].id, factor->text,
          e_.text_of(show(asks, Unit::inch)), e_.text_of(show(*has, Unit::inch)));
      e_.used(factor->cite);
    }
    out_.take(*has, asks, factor->cite, {SubjectKind::raceway, in.raceway});
    return true;
  }

  void spacing(const Entry& in, const Entry& out, Length asks, const Parameter* factor) {
    const Index a = in.raceway, b = out.raceway;
    if (given_.empty()) {
      for (Index i = place_.spacings.first; i < place_.spacings.end(); ++i) {
        const EntrySpacing& each = e_.model.spacings[i];
        given_.push_back({std::minmax(each.first, each.second), i});
      }
      std::sort(given_.begin(), given_.end());
    }
    const std::pair<Index, Index> pair = std::minmax(a, b);
    const auto at = std::lower_bound(given_.begin(), given_.end(), std::pair{pair, Index{0}});
    if (at == given_.end() || at->first != pair || !e_.model.spacings[at->second].distance.known()) {
      if (far_enough_across(in, out, asks, factor)) return;
      lack(s_, "spacing", "the distance between two entries, a length such as 12in",
           fmt::format(FMT_COMPILE("raceways {} and {} hold the same large conductors"),
                       e_.model.raceways[a].id, e_.model.raceways[b].id));
      return;
    }
    const Length has = *e_.model.spacings[at->second].distance;
    for (auto next = at + 1; next != given_.end() && next->first == pair; ++next) {
      const Maybe<Length> other = e_.model.spacings[next->second].distance;
      if (other.known() && *other == has) continue;
      lack(s_, "spacing", "one distance between two entries",
           fmt::format(FMT_COMPILE("the distance of raceways {} and {} is given in two ways"),
                       e_.model.raceways[a].id, e_.model.raceways[b].id));
      return;
    }
    if (!fits(has)) {
      lack(s_, "spacing", "a distance within the box",
           fmt::format(FMT_COMPILE("{} is more than the inside of the box is long from corner to corner"),
                       e_.text_of(show(has, Unit::inch))));
      return;
    }
    if (!fits_on_wall(in, out, has)) {
      lack(
          s_, "spacing", "the distance between the nearest edges of the two entries",
          fmt::format(FMT_COMPILE("raceways {} and {} enter by one wall, and {} between them does not fit on "
                                  "it"),
                      e_.model.raceways[a].id, e_.model.raceways[b].id, e_.text_of(show(has, Unit::inch))));
      return;
    }
    if (e_.noting()) {
      e_.note(FMT_COMPILE("entries of raceways {} and {}: {} x the larger trade size = {}; {} given"),
              e_.model.raceways[a].id, e_.model.raceways[b].id, factor->text,
              e_.text_of(show(asks, Unit::inch)), e_.text_of(show(has, Unit::inch)));
      e_.used(factor->cite);
    }
    out_.take(has, asks, factor->cite, {SubjectKind::raceway, a});
  }

  Evaluation& e_;
  Subject s_;
  const Place& place_;
  Tightest out_;
  std::vector<Row> rows_;
  bool walls_told_ = false;
  std::array<Index, 7> on_wall_{};
  std::uint32_t rowless_ = 0, rows_told_ = 0;  // walls, as bits
  std::vector<std::pair<std::pair<Index, Index>, Index>> given_;
};

Value answer(const Tightest& t, Length what) {
  // What is missing could ask for more, never for less.
  if (t.missing != 0 && !t.too_small()) return Evaluation::lacks(t.missing);
  Value value = Evaluation::value(what.count(), t.cite);
  value.place = t.place;
  return value;
}

}  // namespace

namespace compute {

Value large_pulls(Evaluation& e, Subject s) {
  MissingId missing = ambiguous_pulls(e, s.index);
  std::int64_t pulls = 0;
  for (const Visit& visit : e.in.routes.visits_at(s.index)) {
    const RunContents& run = run_contents(e, visit.run);
    missing = e.missing.both(missing, unsized(e, run));
    if (run.large()) ++pulls;
  }
  if (e.in.routes.visits_at(s.index).size() > 0 && !large_is_known(e))
    return e.lacks_law(smallest_large_conductor);
  if (pulls == 0 && missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(pulls).count());
}

Value pull_dimension(Evaluation& e, Subject s) {
  const Tightest t = Pulls(e, s).dimensions();
  return answer(t, t.available);
}

Value pull_dimension_needed(Evaluation& e, Subject s) {
  const Tightest t = Pulls(e, s).dimensions();
  return answer(t, t.needed);
}

Value marked_for_conductors(Evaluation& e, Subject s) {
  const YesNo marked = e.model.places[s.index].conductors_marked;
  if (marked != YesNo::unstated) return answer(marked == YesNo::yes);
  return e.lacks(s, "marked-for-conductors", "yes or no", installer,
                 "one that is listed for and marked with what it holds may be smaller");
}

Value angle_pulls(Evaluation& e, Subject s) {
  const Tightest t = Pulls(e, s).spacings();
  if (t.pulls == 0 && t.missing != 0) return Evaluation::lacks(t.missing);
  return Evaluation::value(number(t.pulls).count());
}

Value entry_spacing(Evaluation& e, Subject s) {
  const Tightest t = Pulls(e, s).spacings();
  return answer(t, t.available);
}

Value entry_spacing_needed(Evaluation& e, Subject s) {
  const Tightest t = Pulls(e, s).spacings();
  return answer(t, t.needed);
}

}  // namespace compute

}  // namespace raceward::figure
