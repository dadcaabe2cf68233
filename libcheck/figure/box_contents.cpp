// What takes room in a box: conductors by how they stop there, clamps, fittings, devices.
#include "figure/box_contents.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "figure/box_allowances.hpp"
#include "figure/box_circuits.hpp"
#include "figure/box_grounding.hpp"
#include "figure/box_pieces.hpp"
#include "figure/circuit_use.hpp"
#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/jumpers_by_place.hpp"
#include "figure/run_contents.hpp"
#include "figure/run_joins.hpp"

namespace raceward::figure {

namespace {

using namespace installation;

class Counter {
 public:
  Counter(Evaluation& e, Subject box, bool tells)
      : e_(e),
        tells_(tells && e.noting()),
        box_(box),
        place_(e.model.places[box.index]),
        a_(e.of_law<Allowances>()),
        circuits_(e, box.index),
        pieces_(e, a_) {}

  BoxContents count() {
    if (!a_.lacking.empty()) {
      out_.missing = e_.lacks_law(a_.lacking).missing;
      return out_;
    }
    if (const MissingId open = may_pass(e_, box_.index); open != 0) {
      out_.missing = e_.missing.both(out_.missing, open);
      ambiguous_ = true;
    }
    for (const Visit& visit : e_.in.routes.visits_at(box_.index)) conductors_of(visit);
    for (const Index i : jumpers_into(e_, box_.index)) jumper(i);
    note_conductors();
    out_.open = untreated_.missing(e_, box_, true, true);
    const auto devices = devices_in(e_, box_.index);
    if (out_.entries == 0 && devices.empty() && out_.missing == 0) return out_;
    const Volume apart = out_.needed;
    grounding();
    fittings();
    const Volume shared = out_.needed - apart;
    for (const Index i : devices) device(e_.model.devices[i]);
    out_.missing = e_.missing.both(out_.missing, unstopped_at(e_, box_.index));
    out_.missing = e_.missing.both(out_.missing, gangs_denied(e_, box_.index));
    ask_for_what_decides();
    if (place_.divided == YesNo::yes) divide(shared);
    if (tells_) {
      e_.note(FMT_COMPILE("room needed{}: {} in all"),
              out_.missing == 0 && out_.unsaid == 0 ? "" : ", as far as known",
              e_.text_of(show(out_.needed, Unit::cubic_inch)));
    }
    return out_;
  }

 private:
  void lack(Subject element, std::string_view name, std::string_view expects, std::string_view who,
            std::string why = {}, Offset source = 0) {
    out_.missing =
        e_.missing.both(out_.missing, e_.lacks(element, name, expects, who, std::move(why), source).missing);
  }

  void conductors_of(const Visit& visit) {
    const RunContents& run = run_contents(e_, visit.run);
    out_.missing = e_.missing.both(out_.missing, run.missing);
    out_.missing = e_.missing.both(out_.missing, fed_by_nothing(e_, visit));
    const Stop* stop = visit.stop == none ? nullptr : &e_.model.stops[visit.stop];
    const bool both_ways = visit.arrives && visit.leaves;
    for (const bool grounding : {false, true}) {
      const Range items = grounding ? run.grounding : run.other;
      if (items.count == 0) continue;
      StopTreatment treatment = StopTreatment::through;
      if (stop != nullptr) {
        treatment =
            grounding && stop->grounding != StopTreatment::unstated ? stop->grounding : stop->ungrounded;
      }
      const std::string_view fact = grounding ? "grounding" : "conductors";
      if (treatment == StopTreatment::unstated) {
        const Volume before = more_;
        const std::int64_t entries = more_grounding_;
        for (Index i = items.first; i < items.end(); ++i)
          enter_somehow(size_count_of(e_, i), grounding, both_ways);
        if (before == more_ && entries == more_grounding_) continue;
        untreated_.add(grounding, stop->source);
        if (!grounding && both_ways) note_cut(items);
        continue;
      }
      const bool unbroken = treatment == StopTreatment::through || treatment == StopTreatment::looped;
      if (unbroken && !both_ways) {
        if (ambiguous_) continue;  // it may go on by a way that is not known yet
        lack(box_, fact, "terminated or spliced", installer,
             "the run ends here, so its conductors cannot pass unbroken", stop != nullptr ? stop->source : 0);
        continue;
      }
      for (Index i = items.first; i < items.end(); ++i) {
        enter(size_count_of(e_, i), grounding, treatment, both_ways);
      }
    }
  }

  void enter(const SizeCount& item, bool grounding, StopTreatment treatment, bool both_ways) {
    const auto at = static_cast<std::size_t>(item.size);
    if (a_.volume[at] == Table::blank) {
      if (is_large(e_, item.size)) {
        // The pull-box figures judge these.
        large_ = true;
        large_grounding_ = large_grounding_ || grounding;
      } else {
        lack(box_, "conductor", "conductors of sizes that the code in force knows", designer,
             fmt::format(FMT_COMPILE("no volume allowance is given for {}"), name_of(item.size)));
      }
      return;
    }
    note_size(item.size);
    const bool cut = treatment == StopTreatment::spliced || treatment == StopTreatment::terminated;
    const std::int64_t entries = item.count * (cut && both_ways ? 2 : 1);
    out_.entries += entries;
    if (grounding) {
      grounding_ += entries;
      largest_grounding_ = std::max(largest_grounding_, item.size);
    } else if (treatment == StopTreatment::looped) {
      looped_[at] += item.count;
    } else {
      plain_[at] += entries;
    }
  }

  /// Of how they are treated nobody says anything: as if they passed, and what else they may take. Where
  /// their run ends they are cut.
  void enter_somehow(const SizeCount& item, bool grounding, bool both_ways) {
    enter(item, grounding, both_ways ? StopTreatment::through : StopTreatment::terminated, both_ways);
    const std::int64_t room = a_.volume[static_cast<std::size_t>(item.size)];
    if (!both_ways || room == Table::blank) return;
    if (grounding) {
      more_grounding_ += item.count;
      return;
    }
    const Volume passing = Volume::steps(room) * item.count;
    more_ += std::max(passing, times(a_.loops, passing) - passing);  // cut, or looped
  }

  /// What they take more if they are cut.
  void note_cut(const Range& items) {
    Volume cut;
    for (Index i = items.first; i < items.end(); ++i) {
      const SizeCount item = size_count_of(e_, i);
      const std::int64_t room = a_.volume[static_cast<std::size_t>(item.size)];
      if (room != Table::blank) cut += Volume::steps(room) * item.count;
    }
    pieces_.may_cut(cut);
  }

  [[nodiscard]] Volume least() const { return pieces_.least(out_.needed); }

  void note_size(ConductorSize size) {
    largest_ = std::max(largest_, size);
    smallest_ = smallest_ == ConductorSize::unstated ? size : std::min(smallest_, size);
  }

  /// A bonding jumper that enters the box counts with the equipment grounding conductors.
  void jumper(Index index) {
    const BondingJumper& jumper = e_.model.bonding_jumpers[index];
    if (jumper.size == ConductorSize::unstated) {
      ++out_.entries;
      lack({SubjectKind::bonding_jumper, index}, "size", "a size such as 12 AWG", installer, {},
           jumper.source);
      return;
    }
    jumpers_ = true;
    enter({jumper.size, 1}, true, StopTreatment::terminated, false);
  }

  void note_conductors() {
    const auto sizes = terms_of(ConductorSize{});
    for (std::size_t at = 1; at <= sizes.size(); ++at) {
      if (plain_[at] == 0 && looped_[at] == 0) continue;
      out_.cite = out_.cite == no_citation ? a_.cite[at] : out_.cite;
      if (tells_) e_.used(a_.cite[at]);
      const Volume one = Volume::steps(a_.volume[at]);
      if (plain_[at] != 0) {
        out_.needed += one * plain_[at];
        if (tells_)
          e_.note(FMT_COMPILE("conductors: {} x {} ({}) = {}"), plain_[at],
                  e_.text_of(show(one, Unit::cubic_inch)), sizes[at - 1].spelling,
                  e_.text_of(show(one * plain_[at], Unit::cubic_inch)));
      }
      if (looped_[at] != 0) {
        const Volume loops = times(a_.loops, one * looped_[at]);
        out_.needed += loops;
        if (tells_)
          e_.note(FMT_COMPILE("looped unbroken conductors: {} x {} ({}) x {} = {}"), looped_[at],
                  e_.text_of(show(one, Unit::cubic_inch)), sizes[at - 1].spelling, a_.loops->text,
                  e_.text_of(show(loops, Unit::cubic_inch)));
      }
    }
  }

  Volume of_size(ConductorSize size) { return Volume::steps(a_.volume[static_cast<std::size_t>(size)]); }

  void grounding() {
    if (grounding_ == 0) return;
    if (large_grounding_) {
      return lack(
          box_, "conductor", "nothing: settle with whoever inspects how much room they take", installer,
          "the grounding conductors count by the largest, and no allowance is given for one so large");
    }
    const GroundingSets sets = grounding_sets(e_, box_.index, a_);
    const bool two_sets = sets.plain != ConductorSize::unstated && sets.isolated != ConductorSize::unstated;
    const ConductorSize largest = two_sets ? sets.plain : largest_grounding_;
    const Volume one = of_size(largest);
    const std::int64_t first_count = a_.first_count->value.count / number(1).count();
    const std::int64_t further = std::max<std::int64_t>(0, grounding_ - first_count);
    Volume sum = times(a_.first_allowances, one);
    sum += times(a_.further, one * further);
    out_.needed += sum;
    if (more_grounding_ != 0) {
      const std::int64_t then = std::max<std::int64_t>(0, grounding_ + more_grounding_ - first_count);
      more_of_grounding_ = times(a_.further, one * (then - further));
    }
    if (tells_) {
      const bool all_alike = a_.further->value.count == 0;
      e_.used(all_alike ? a_.further->cite : a_.first_count->cite);
      e_.note(FMT_COMPILE("equipment grounding conductors{}: {} of them; {}: {} allowance of {} ({}){} = {}"),
              !jumpers_ ? "" : " and bonding jumpers", grounding_,
              all_alike ? "together" : "first " + a_.first_count->text, a_.first_allowances->text,
              e_.text_of(show(one, Unit::cubic_inch)), name_of(largest),
              further > 0 && !all_alike
                  ? fmt::format(FMT_COMPILE("; {} more x {}"), further, a_.further->text)
                  : std::string{},
              e_.text_of(show(sum, Unit::cubic_inch)));
    }
    if (sets.unsaid != none && sets.wires > 1 && sets.isolated == ConductorSize::unstated) {
      unsaid_ = sets.unsaid;
      possible_ += times(a_.isolated, one);
    }
    if (!two_sets) return;
    const Volume apart = times(a_.isolated, of_size(sets.isolated));
    out_.needed += apart;
    if (tells_) {
      e_.used(a_.isolated->cite);
      e_.note(FMT_COMPILE("isolated equipment grounding conductors: {} allowance of {} ({}) = {}"),
              a_.isolated->text, e_.text_of(show(of_size(sets.isolated), Unit::cubic_inch)),
              name_of(sets.isolated), e_.text_of(show(apart, Unit::cubic_inch)));
    }
  }

  /// A set that may be isolated and may not be, where the box holds one of the two only, devices that may be
  /// held by a yoke, and clamps.
  void ask_for_what_decides() {
    ask_for_treatments();
    if (out_.missing == 0 && pieces_.any() && decides(e_, box_, least(), out_.needed)) lack_pieces();
    // A violation whatever is not said is told with the least.
    const bool unsaid = pieces_.of_any_circuit() || (more_ + more_of_grounding_ + possible_).count() != 0;
    const bool short_anyway = unsaid && out_.missing == 0 && falls_short(e_, box_, least());
    if (out_.missing != 0 || short_anyway) {
      const Volume less = out_.needed - least();
      out_.needed = least();
      if (tells_ && less.count() != 0)
        e_.note(FMT_COMPILE("smaller pieces to devices may take {} less"),
                e_.text_of(show(less, Unit::cubic_inch)));
    }
    if (short_anyway) return leave_unsaid();
    if (out_.missing != 0) {
      const Volume most = out_.needed + possible_ + more_ + more_of_grounding_;
      if (clamps_unsaid_ && !suffices(e_, box_, most) && !falls_short(e_, box_, out_.needed)) lack_clamps();
      return;
    }
    if (decides(e_, box_, out_.needed, out_.needed + possible_)) lack_possible();
  }

  /// Too small whatever is not said.
  void leave_unsaid() {
    lack_treatments();
    lack_pieces();
    lack_possible();
    out_.unsaid = std::exchange(out_.missing, 0);
  }

  /// How conductors are treated where that may decide. Where the box suffices even so, what they may take is
  /// counted.
  void ask_for_treatments() {
    const Volume more = more_ + more_of_grounding_;
    if (more.count() == 0 || place_.divided == YesNo::yes) return;
    const bool fits = suffices(e_, box_, out_.needed + possible_ + more);
    if (out_.missing == 0 && (fits || falls_short(e_, box_, least()))) {
      if (!fits) return;
      out_.needed += more;
      if (tells_)
        e_.note(FMT_COMPILE("conductors of which nobody says whether they pass: at most {} more"),
                e_.text_of(show(more, Unit::cubic_inch)));
      return;
    }
    lack_treatments();
  }

  void lack_treatments() {
    const MissingId treatments =
        untreated_.missing(e_, box_, more_of_grounding_.count() != 0, more_.count() != 0);
    out_.missing = e_.missing.both(out_.missing, treatments);
  }

  void lack_pieces() { out_.missing = e_.missing.both(out_.missing, pieces_.missing()); }

  /// What may be in the box or not.
  void lack_possible() {
    if (unsaid_ != none) {
      lack({SubjectKind::conductor, unsaid_}, "isolated", "yes or no", installer,
           "an isolated set of equipment grounding conductors takes an allowance of its own",
           e_.model.conductors[unsaid_].source);
    }
    for (const Index i : perhaps_held_) lack_yokes(i);
    for (const Index i : on_large_) {
      lack({SubjectKind::device, i}, "conductor-size", "a size such as 12 AWG", installer,
           "its circuit brings conductors larger than those that take an allowance, and smaller pieces may "
           "lead to it",
           e_.model.devices[i].source);
    }
    if (clamps_unsaid_) lack_clamps();
  }

  void lack_clamps() { lack(box_, "internal-clamps", "yes or no", installer); }

  void lack_yokes(Index device) {
    lack({SubjectKind::device, device}, "yokes", yokes_or_none, installer, {},
         e_.model.devices[device].source);
  }

  /// Each side of a barrier is asked for room of its own, and the document does not tell what is on which.
  /// What all sides need together is known where all conductors are of one size; else only what lies on one
  /// side each.
  void divide(Volume shared) {
    if (out_.missing == 0 && out_.unsaid == 0) out_.needed = least();
    if (largest_ != smallest_) out_.needed = out_.needed - shared;
    lack(box_, "divided", "nothing: count on site what lies on each side, and measure that side", installer,
         "each side of a barrier is asked for room of its own, less what the barrier takes, and what lies on "
         "which side is not written");
  }

  void fittings() {
    if (large_ && out_.entries == 0) return;  // a pull box, which has no volume to keep
    const Range fittings = place_.support_fittings;
    bool stud = false, hickey = false;
    for (Index i = fittings.first; i < fittings.end(); ++i) {
      (e_.model.support_fittings[i].hickey ? hickey : stud) = true;
    }
    const int kinds = (stud ? 1 : 0) + (hickey ? 1 : 0);
    out_.entries += kinds;
    if (place_.internal_clamps == YesNo::unstated && place_.kind == PlaceKind::box) {
      clamps_unsaid_ = !large_ && largest_ != ConductorSize::unstated;
      if (clamps_unsaid_) possible_ += times(a_.clamps, of_size(largest_));
      if (!clamps_unsaid_) lack_clamps();
    }
    if (place_.canopy_wires > a_.canopy->value.count / number(1).count()) {
      lack(box_, "canopy-wires", "the wires written as conductors of a run", designer,
           fmt::format(
               FMT_COMPILE("{} wires from a canopy are more than the {} that may be left out of the count"),
               place_.canopy_wires, a_.canopy->text));
    }
    const bool clamps = place_.internal_clamps == YesNo::yes;
    if (!clamps && kinds == 0) return;
    if (large_) {
      return lack(
          box_, "conductor", "nothing: settle with whoever inspects how much room they take", installer,
          "clamps and fittings count by the largest conductor, and no allowance is given for one so large");
    }
    if (largest_ == ConductorSize::unstated) {
      if (out_.missing == 0) lack(box_, "run", "the conductors in the box", designer);
      return;
    }
    const Volume one = of_size(largest_);
    if (clamps) {
      ++out_.entries;
      out_.needed += times(a_.clamps, one);
      if (tells_) e_.used(a_.clamps->cite);
      if (tells_)
        e_.note(FMT_COMPILE("internal clamps: {} x {} (largest conductor {}) = {}"), a_.clamps->text,
                e_.text_of(show(one, Unit::cubic_inch)), name_of(largest_),
                e_.text_of(show(times(a_.clamps, one), Unit::cubic_inch)));
    }
    if (kinds != 0) {
      const Volume sum = times(a_.fittings, one * kinds);
      out_.needed += sum;
      if (tells_) e_.used(a_.fittings->cite);
      if (tells_)
        e_.note(FMT_COMPILE("support fittings: {} kind{} x {} x {} (largest conductor {}) = {}"), kinds,
                kinds == 1 ? "" : "s", a_.fittings->text, e_.text_of(show(one, Unit::cubic_inch)),
                name_of(largest_), e_.text_of(show(sum, Unit::cubic_inch)));
    }
  }

  void device(const Device& d) {
    const Subject subject{SubjectKind::device, static_cast<Index>(&d - e_.model.devices.data())};
    if (!circuits_stop_here(d, subject)) return;
    if (d.no_yoke && d.kind != DeviceKind::terminal_block && d.kind != DeviceKind::unstated) {
      out_.missing = e_.missing.both(out_.missing, yoke_denied(e_, subject.index));
      return;
    }
    const SizeRange sizes = circuits_.on(subject.index);
    if (on_large(d, sizes, subject.index)) return;
    const bool may_hang = d.kind == DeviceKind::luminaire || d.kind == DeviceKind::disconnect;
    if (may_hang && d.gangs == 0 && d.yokes == 0) return perhaps_held(d, subject.index);
    ++out_.entries;
    if (d.kind == DeviceKind::unstated) {
      lack(subject, "kind", "what the device is, such as receptacle", installer, {}, d.source);
      return;
    }
    const ConductorSize size = sizes.most;
    if (size == ConductorSize::unstated) return lack_size(d, subject);
    const bool block = d.kind == DeviceKind::terminal_block;
    const Parameter* const factor = block ? a_.blocks : a_.devices;
    // Two yokes side by side are two gangs wide: those are not counted twice.
    const std::int64_t places = block ? 1 : std::max(d.yokes, d.gangs);
    pieces_.device(subject.index, sizes, factor, places);
    out_.missing = e_.missing.both(out_.missing, size_denied(e_, subject.index));
    if (a_.volume[static_cast<std::size_t>(size)] == Table::blank) {
      lack(subject, "conductor-size", "a size that has a volume allowance", installer,
           fmt::format(FMT_COMPILE("no allowance is given for {}"), name_of(size)), d.source);
      return;
    }
    if (!block && (d.gangs == 0 || d.yokes == 0)) {
      const auto missing = [&](std::string_view name, std::string_view expects) {
        lack(subject, name, expects, installer, {}, d.source);
      };
      if (d.gangs == 0) missing("gangs", "how many gangs its width takes");
      if (d.yokes == 0)
        may_hang ? lack_yokes(subject.index) : missing("yokes", "how many yokes or straps hold it");
      return;
    }
    const Volume sum = times(factor, of_size(size) * places);
    out_.needed += sum;
    if (tells_) e_.used(factor->cite);
    if (tells_)
      e_.note(FMT_COMPILE("{} {}: {} x {} ({}){} = {}"), name_of(d.kind), d.id, factor->text,
              e_.text_of(show(of_size(size), Unit::cubic_inch)), name_of(size),
              places == 1 ? std::string{} : fmt::format(FMT_COMPILE(" x {} yokes or gangs"), places),
              e_.text_of(show(sum, Unit::cubic_inch)));
  }

  /// Whether a device is on conductors that the pull-box figures judge: it takes no allowance, but where it
  /// may be on smaller pieces, and these at most that of the largest size that has one.
  bool on_large(const Device& d, const SizeRange& sizes, Index index) {
    const auto large = [&](ConductorSize size) {
      return is_large(e_, size) && a_.volume[static_cast<std::size_t>(size)] == Table::blank;
    };
    if (d.kind == DeviceKind::unstated || !large(sizes.most)) return false;
    out_.missing = e_.missing.both(out_.missing, size_denied(e_, index));
    if (large(sizes.least)) return true;
    const bool block = d.kind == DeviceKind::terminal_block;
    const std::int64_t places = block ? 1 : std::max({1, int{d.yokes}, int{d.gangs}});
    possible_ +=
        times(block ? a_.blocks : a_.devices, Volume::steps(*std::ranges::max_element(a_.volume)) * places);
    on_large_.push_back(index);
    return true;
  }

  /// Most luminaires hang from the box by their canopy, and disconnects sit in enclosures of their own; but a
  /// yoke may hold one. It would take no more than one for each gang of the box.
  void perhaps_held(const Device& d, Index index) {
    ConductorSize size = d.conductor_size;
    for (Index i = d.circuits.first; i < d.circuits.end() && d.conductor_size == ConductorSize::unstated;
         ++i) {
      if (const ConductorSize* found = circuits_.largest(e_.model.device_circuits[i]))
        size = std::max(size, *found);
    }
    if (size == ConductorSize::unstated) size = largest_;
    const std::int64_t room = a_.volume[static_cast<std::size_t>(size)];
    if (size == ConductorSize::unstated || room == Table::blank) {
      if (out_.entries != 0 || !large_) lack_yokes(index);
      return;
    }
    possible_ += times(a_.devices, Volume::steps(room) * std::max<std::int64_t>(1, place_.gangs));
    perhaps_held_.push_back(index);
  }

  /// A device of a circuit none of whose runs stops here has conductors that are not written.
  bool circuits_stop_here(const Device& d, Subject subject) {
    bool stop = true;
    for (Index i = d.circuits.first; i < d.circuits.end(); ++i) {
      const Index circuit = e_.model.device_circuits[i];
      if (circuits_.largest(circuit) != nullptr) continue;
      stop = false;
      lack(subject, "circuit", "a circuit with a stop in its box; or add that stop to the circuit's run",
           designer,
           fmt::format(FMT_COMPILE("no run of {} stops in {}"), e_.model.circuits[circuit].id, place_.id),
           d.source);
    }
    if (d.circuits.count == 0 && e_.in.routes.visits_at(box_.index).empty()) {
      lack(subject, "circuit", "the id of the circuit that feeds it", designer,
           "no conductors are written that reach it", d.source);
      stop = false;
    }
    return stop;
  }

  /// Of a device of which nothing tells the largest conductor on it.
  void lack_size(const Device& d, Subject device) {
    if (d.circuits.count == 0) {
      out_.missing = e_.missing.both(out_.missing, lacks_circuit_of(e_, device.index).missing);
    } else {
      lack(device, "conductor-size", "a size such as 12 AWG", designer,
           fmt::format(FMT_COMPILE("none of its circuits is known to bring a conductor into {}"), place_.id),
           d.source);
    }
  }

  Evaluation& e_;
  const bool tells_;
  Subject box_;
  const Place& place_;
  const Allowances& a_;
  BoxContents out_;
  CircuitsInBox circuits_;
  Pieces pieces_;
  std::array<std::int64_t, size_count> plain_{}, looped_{};
  std::int64_t grounding_ = 0;
  ConductorSize largest_{}, smallest_{}, largest_grounding_{};
  Index unsaid_ = none;
  UntreatedStops untreated_;
  Volume more_;                      // that conductors may take which do not pass
  Volume more_of_grounding_;         // that grounding conductors may take
  std::int64_t more_grounding_ = 0;  // entries of grounding conductors that do not pass
  std::vector<Index> on_large_;      // devices that may be on smaller pieces of large conductors
  std::vector<Index> perhaps_held_;  // devices that may hang from the box or be held by a yoke
  Volume possible_;                  // what those, an isolated set and clamps would take
  bool clamps_unsaid_ = false;
  bool jumpers_ = false, ambiguous_ = false, large_ = false, large_grounding_ = false;
};

}  // namespace

MissingId may_pass(Evaluation& e, Index box) {
  MissingId missing = 0;
  for (const Adjacent& next : e.in.graph.at(box)) {
    const Index ambiguity = e.in.routes.block_ambiguity[e.in.graph.block[next.raceway]];
    if (ambiguity == none) continue;
    const auto& open = e.in.routes.ambiguities[ambiguity];
    const Stop& stop = e.model.stops[open.stop];
    const Value lack = e.lacks(
        {SubjectKind::circuit, e.model.runs[open.run].circuit}, "via", "the raceways that the run takes",
        designer,
        fmt::format(FMT_COMPILE("more than one way leads to {}, so the conductors may pass this box or not"),
                    e.model.places[stop.place].id),
        stop.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

BoxContents count_contents(Evaluation& e, Subject box, bool tells) {
  // Of the box that was counted last: its figures are mostly asked for one after the other.
  struct Last {
    Index box = none;
    BoxContents contents;
  };
  Last& last = e.once<Last>();
  if (last.box != box.index || (tells && e.noting())) {
    last.contents = Counter(e, box, tells).count();
    last.box = box.index;
  }
  return last.contents;
}

}  // namespace raceward::figure
