// Room in boxes where the code counts insulated conductors, and everything else as so many of them.
//
// Method: an insulated conductor counts where it passes, and at each entry where it is cut. Devices and
// fittings count as conductors of a size; so do wire connectors, by the largest conductor that they join. A
// deep device takes a space by its depth instead. Standard boxes are judged by the number of conductors where
// all are of one size, all others by the space. docs/figures/box-space.md tells it in words.
#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include "figure/box_allowances.hpp"
#include "figure/box_contents.hpp"
#include "figure/box_pieces.hpp"
#include "figure/conductor.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/figure.hpp"
#include "figure/run_contents.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

namespace {

using namespace installation;

constexpr std::int64_t one = number(1).count();

/// The law's part, looked up once a check.
struct SpaceLaw {
  std::array<std::int64_t, size_count> volume{};
  std::array<CitationId, size_count> cite{};
  const Parameter *devices = nullptr, *fittings = nullptr, *connectors = nullptr, *depth = nullptr,
                  *section = nullptr;
  std::string_view lacking;

  void read(const Law& law);
};

void SpaceLaw::read(const Law& law) {
  volume.fill(Table::blank);
  cite.fill(no_citation);
  const auto take = [&](std::string_view name, Dimension dimension) {
    const Parameter* const p = law.parameter(name, dimension);
    if (p == nullptr) lacking = name;
    return p;
  };
  devices = take("device-conductors", Dimension::none);
  fittings = take("fitting-conductors", Dimension::none);
  connectors = law.divisor("connectors-per-conductor", Dimension::none);
  if (connectors == nullptr) lacking = "connectors-per-conductor";
  depth = take("deep-device", Dimension::length);
  section = take("deep-device-cross-section", Dimension::area);
  const Table* const t = law.table("conductor-space");
  if (t == nullptr) {
    lacking = "conductor-space";
    return;
  }
  const std::uint32_t column = t->column("space", Dimension::volume);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    const auto size = static_cast<std::size_t>(term_spelt<ConductorSize>(t->key(row, 0)));
    if (size == 0) continue;
    volume[size] = t->count(row, column);
    cite[size] = t->cite(row);
  }
}

struct BoxSpace {
  std::int64_t conductors = 0;  ///< with what counts as conductors
  Volume most, least;
  ConductorSize size{};  ///< of all of them; unstated where they differ
  bool alike = true;     ///< all of one size, and nothing takes a space of its own
  MissingId missing = 0;
  MissingId joined = 0;  ///< which sizes the wire connectors join, where that makes a difference
  MissingId unsaid = 0;  ///< what is not said and does not matter: too much whatever it is, by the least
  CitationId cite = no_citation;
};

/// How many conductors the law lets a standard box hold; 0 where it goes by the space.
Value allowed_by_number(Evaluation& e, Subject s, const BoxSpace& space) {
  const Place& box = e.model.places[s.index];
  const Table* const t = e.law.table("box-conductor-count");
  if (!space.alike || box.volume.known() || box.covers.count != 0 || t == nullptr)
    return Evaluation::value(0);
  const std::uint32_t row = t->find({name_of(box.box_kind), name_of(box.box_size), name_of(space.size)});
  const std::int64_t count = t->count(row, t->column("conductors", Dimension::none));
  if (row == Table::none || count == Table::blank) return Evaluation::value(0);
  return Evaluation::value(count, t->cite(row));
}

class Counter {
 public:
  Counter(Evaluation& e, Subject box)
      : e_(e), box_(box), place_(e.model.places[box.index]), law_(e.of_law<SpaceLaw>()) {}

  BoxSpace count() {
    if (!law_.lacking.empty()) {
      out_.missing = e_.lacks_law(law_.lacking).missing;
      return out_;
    }
    out_.missing = e_.missing.both(out_.missing, may_pass(e_, box_.index));
    for (const Visit& visit : e_.in.routes.visits_at(box_.index)) conductors_of(visit);
    note_conductors();
    connectors();
    fittings();
    for (const Index i : devices_in(e_, box_.index)) device(i);
    out_.missing = e_.missing.both(out_.missing, gangs_denied(e_, box_.index));
    if (least_cut_) out_.least = std::min(least_passing_, out_.least + *least_cut_);
    ask_for_what_decides();
    e_.note(FMT_COMPILE("space needed{}: {} in all"),
            out_.missing == 0 && out_.unsaid == 0 ? "" : ", as far as known",
            text_of(show(out_.unsaid == 0 ? out_.most : out_.least, Unit::millilitre)));
    return out_;
  }

 private:
  void lack(Subject element, std::string_view name, std::string_view expects, std::string_view who,
            std::string why = {}, Offset source = 0) {
    out_.missing =
        e_.missing.both(out_.missing, e_.lacks(element, name, expects, who, std::move(why), source).missing);
  }

  void conductors_of(const Visit& visit) {
    const Run& run = e_.model.runs[visit.run];
    out_.missing = e_.missing.both(out_.missing, run_contents(e_, visit.run).missing);
    const Stop* const stop = visit.stop == none ? nullptr : &e_.model.stops[visit.stop];
    const bool both_ways = visit.arrives && visit.leaves;
    Volume cut_of_run;
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Index index = e_.model.run_conductors[i];
      const Conductor& c = e_.model.conductors[index];
      const ConductorKind& kind = e_.model.conductor_kinds[c.kind];
      if (kind.cable || kind.size == ConductorSize::unstated || c.role == Role::unstated) continue;
      const bool grounding = c.role == Role::equipment_grounding || c.role == Role::bonding;
      StopTreatment treatment = StopTreatment::through;
      if (stop != nullptr)
        treatment =
            grounding && stop->grounding != StopTreatment::unstated ? stop->grounding : stop->ungrounded;
      const std::string_view fact = grounding ? "grounding" : "conductors";
      if (treatment == StopTreatment::unstated) {
        note_joined(kind.size);
        const bool counts = enter(index, grounding, c.count);
        cut_ = cut_ || !both_ways;  // where its run ends
        if (!counts || !both_ways) continue;
        more_conductors_ += c.count;
        more_ += space(kind.size) * c.count;
        if (!grounding) cut_of_run += space(kind.size) * c.count;
        untreated_.add(grounding, stop->source);
        continue;
      }
      const bool cut = treatment == StopTreatment::spliced || treatment == StopTreatment::terminated;
      if (!cut && !both_ways) {
        lack(box_, fact, "terminated or spliced", installer,
             "the run ends here, so its conductors cannot pass unbroken", stop != nullptr ? stop->source : 0);
        continue;
      }
      cut_ = cut_ || cut;
      if (treatment == StopTreatment::spliced) note_joined(kind.size);
      enter(index, grounding, c.count * std::int64_t{cut && both_ways ? 2 : 1});
    }
    if (cut_of_run.count() != 0) least_cut_ = least_cut_ ? std::min(*least_cut_, cut_of_run) : cut_of_run;
  }

  void note_joined(ConductorSize size) {
    smallest_joined_ = smallest_joined_ == ConductorSize::unstated ? size : std::min(smallest_joined_, size);
    largest_joined_ = std::max(largest_joined_, size);
  }

  /// How conductors are treated that may pass, and how many caps there are, where that may decide.
  void ask_for_what_decides() {
    if (more_conductors_ == 0 && caps_ == 0) return;
    const std::int64_t allowed = allowed_by_number(e_, box_, out_).count / one;
    const bool by_number = allowed != 0;
    const bool fits =
        by_number ? out_.conductors + more_conductors_ <= allowed : suffices(e_, box_, out_.most + more_);
    if (out_.missing == 0 && caps_ == 0 && fits) {
      out_.conductors += more_conductors_;
      out_.most += more_;
      if (e_.noting())
        e_.note(FMT_COMPILE("conductors of which nobody says whether they pass: at most {} more"),
                text_of(show(more_, Unit::millilitre)));
      return;
    }
    const bool fails = by_number ? out_.conductors > allowed : falls_short(e_, box_, out_.least);
    const MissingId open = e_.missing.both(caps_, untreated_.missing(e_, box_, true, true));
    MissingId& to = out_.missing == 0 && fails ? out_.unsaid : out_.missing;
    to = e_.missing.both(to, open);
  }

  /// Whether it counts.
  bool enter(Index index, bool grounding, std::int64_t entries) {
    const Conductor& c = e_.model.conductors[index];
    const ConductorKind& kind = e_.model.conductor_kinds[c.kind];
    const Subject at{SubjectKind::conductor, index};
    if (grounding && kind.insulations == 0) {
      lack(at, "insulation", "a mark of its insulation, or bare", marking, {}, c.source);
      return false;
    }
    if (is_bare(kind)) {
      if (e_.noting()) bare_.push_back(index);
      return false;
    }
    if (no_space(kind.size, at, c.source)) return false;
    entries_[static_cast<std::size_t>(kind.size)] += entries;
    largest_ = std::max(largest_, kind.size);
    return true;
  }

  /// True, and said, where the law gives no space for the size.
  bool no_space(ConductorSize size, Subject at, Offset source) {
    if (law_.volume[static_cast<std::size_t>(size)] != Table::blank) return false;
    lack(at, "size", "a size that the code in force gives a space for", designer,
         fmt::format(FMT_COMPILE("no space is given for {}"), name_of(size)), source);
    return true;
  }

  [[nodiscard]] Volume space(ConductorSize size) const {
    return Volume::steps(law_.volume[static_cast<std::size_t>(size)]);
  }

  /// So many more conductors of the size, or of one as small as `least`; where conductors pass of which
  /// nobody says how they are treated, as `least_passing`.
  void add(std::int64_t conductors, ConductorSize size, ConductorSize least, ConductorSize least_passing) {
    out_.conductors += conductors;
    out_.most += space(size) * conductors;
    out_.least += space(least) * conductors;
    least_passing_ += space(least_passing) * conductors;
    out_.alike = out_.alike && (out_.size == ConductorSize::unstated || out_.size == size) && size == least;
    out_.size = size;
    out_.cite = law_.cite[static_cast<std::size_t>(size)];
    e_.used(out_.cite);
  }

  void note_conductors() {
    for (const Index i : told_by_id(e_, e_.model.conductors, bare_))
      e_.note(FMT_COMPILE("conductor {} is bare and does not count"), e_.model.conductors[i].id);
    for (std::size_t at = 1; at < entries_.size(); ++at) {
      if (entries_[at] == 0) continue;
      const auto size = static_cast<ConductorSize>(at);
      add(entries_[at], size, size, size);
      if (e_.noting())
        e_.note(FMT_COMPILE("insulated conductors: {} x {} ({}) = {}"), entries_[at],
                text_of(show(space(size), Unit::millilitre)), name_of(size),
                text_of(show(space(size) * entries_[at], Unit::millilitre)));
    }
  }

  void connectors() {
    if (place_.wire_connectors == 0) {
      // Conductors on terminals may come by a cap and a short piece.
      if (cut_ || more_conductors_ != 0)
        caps_ = e_.lacks(box_, "wire-connectors", "how many insulated caps join conductors in it, or 0",
                         installer)
                    .missing;
      return;
    }
    const std::int64_t stated = place_.wire_connectors - 1;
    const std::int64_t count = stated * one / law_.connectors->value.count;
    if (count == 0) return;
    const bool joined = largest_joined_ != ConductorSize::unstated;
    ConductorSize most = joined ? largest_joined_ : largest_, least = joined ? smallest_joined_ : largest_;
    if (most == ConductorSize::unstated)
      return lack(box_, "run", "the conductors in the box", designer,
                  "wire connectors are in it, and no conductor that they join");
    for (const ConductorSize size : {most, least}) {
      if (no_space(size, box_, place_.source)) return;
    }
    e_.used(law_.connectors->cite);
    if (most != least)
      out_.joined = e_.lacks(box_, "wire-connectors",
                             "nothing: see on site which conductors each of them joins", installer,
                             fmt::format(FMT_COMPILE("they join conductors of {} to {}, and which of them is "
                                                     "under each is not written"),
                                         name_of(least), name_of(most)))
                        .missing;
    add(count, most, least, least);
    if (e_.noting())
      e_.note(FMT_COMPILE("wire connectors: {}, counted as {} x {} ({}) = {}"), stated, count,
              text_of(show(space(most), Unit::millilitre)), name_of(most),
              text_of(show(space(most) * count, Unit::millilitre)));
  }

  void fittings() {
    const std::int64_t fittings = place_.support_fittings.count;
    if (fittings == 0) return;
    if (largest_ == ConductorSize::unstated) {
      if (out_.missing == 0) lack(box_, "run", "the conductors in the box", designer);
      return;
    }
    e_.used(law_.fittings->cite);
    const std::int64_t count = fittings * (law_.fittings->value.count / one);
    add(count, largest_, largest_, largest_);
    if (e_.noting())
      e_.note(FMT_COMPILE("fittings that carry a luminaire: {} x {} (largest conductor {}) = {}"), count,
              text_of(show(space(largest_), Unit::millilitre)), name_of(largest_),
              text_of(show(space(largest_) * count, Unit::millilitre)));
  }

  void device(Index index) {
    const Device& d = e_.model.devices[index];
    const Subject subject{SubjectKind::device, index};
    // Most luminaires hang from the box by their canopy; one that says its strap is held as a device is.
    if (d.kind == DeviceKind::luminaire && d.gangs == 0 && d.yokes == 0) return;
    if (d.no_yoke && d.kind != DeviceKind::terminal_block && d.kind != DeviceKind::unstated) {
      out_.missing = e_.missing.both(out_.missing, yoke_denied(e_, index));
      return;
    }
    if (d.kind == DeviceKind::unstated || d.kind == DeviceKind::terminal_block)
      return lack(
          subject, "kind", "a device on a strap", installer,
          d.kind == DeviceKind::unstated ? "" : "the code in force does not say what a terminal block takes",
          d.source);
    const std::int64_t straps = d.yokes != 0 ? d.yokes : d.gangs;
    if (straps == 0)
      return lack(subject, "yokes", "how many yokes or straps hold it", installer, {}, d.source);
    if (!d.depth.known())
      return lack(subject, "depth", "a length behind its strap such as 25mm", installer_tape, {}, d.source);
    if ((*d.depth).count() > law_.depth->value.count) return deep(d, straps);
    const ConductorSize size =
        d.conductor_size != ConductorSize::unstated ? d.conductor_size : largest_on(d, subject);
    if (size == ConductorSize::unstated || no_space(size, subject, d.source)) return;
    out_.missing = e_.missing.both(out_.missing, size_denied(e_, index));
    const std::int64_t count = straps * (law_.devices->value.count / one);
    e_.used(law_.devices->cite);
    // By number only where all are of one size, and nobody says otherwise.
    const bool by_volume = e_.model.places[box_.index].volume.known();
    const auto least = [&](Untreated as) {
      const bool may = by_volume && d.conductor_size == ConductorSize::unstated;
      const ConductorSize piece = may ? least_piece_on(e_, index, as) : ConductorSize::unstated;
      return piece == ConductorSize::unstated ? size : std::min(piece, size);
    };
    const ConductorSize piece = least(Untreated::spliced);
    add(count, size, piece, least(Untreated::passing));
    if (piece < size) {
      const Value lack =
          e_.lacks(subject, "conductor-size", "a size such as 14 AWG", installer,
                   "conductors are spliced in its box, and pieces of another size may lead to it", d.source);
      out_.joined = e_.missing.both(out_.joined, lack.missing);
    }
    if (e_.noting())
      e_.note(FMT_COMPILE("{} {}: {} x {} ({}) = {}"), name_of(d.kind), d.id, count,
              text_of(show(space(size), Unit::millilitre)), name_of(size),
              text_of(show(space(size) * count, Unit::millilitre)));
  }

  void deep(const Device& d, std::int64_t straps) {
    const Volume each = raceward::Area::steps(law_.section->value.count) * *d.depth;
    out_.most += each * straps;
    out_.least += each * straps;
    least_passing_ += each * straps;
    out_.conductors += straps;  // so that the box is not taken for empty
    out_.alike = false;
    e_.used(law_.section->cite);
    if (e_.noting())
      e_.note(FMT_COMPILE("{} {}, {} deep and so more than {}: {} x {} = {}"), name_of(d.kind), d.id,
              text_of(show(*d.depth, Unit::millimetre)), text_of(law_.depth->value),
              text_of(law_.section->value), text_of(show(*d.depth, Unit::millimetre)),
              text_of(show(each * straps, Unit::millilitre)));
  }

  /// The largest conductor that the device's circuits bring into the box.
  ConductorSize largest_on(const Device& d, Subject subject) {
    ConductorSize largest{};
    for (const Visit& visit : e_.in.routes.visits_at(box_.index)) {
      if (visit.stop == none) continue;
      for (Index i = d.circuits.first; i < d.circuits.end(); ++i) {
        if (e_.model.runs[visit.run].circuit == e_.model.device_circuits[i])
          largest = std::max(largest, run_contents(e_, visit.run).largest);
      }
    }
    if (largest == ConductorSize::unstated)
      lack(subject, "circuit", "a circuit with a stop in its box", designer,
           d.circuits.count == 0 ? "" : "none of its circuits is known to bring a conductor into the box",
           d.source);
    return largest;
  }

  Evaluation& e_;
  Subject box_;
  const Place& place_;
  const SpaceLaw& law_;
  BoxSpace out_;
  std::array<std::int64_t, size_count> entries_{};
  std::vector<Index> bare_;  // while noting
  UntreatedStops untreated_;
  std::int64_t more_conductors_ = 0;  // if what may pass is cut
  Volume more_;                       // that those take
  Volume least_passing_;              // of all, where what may pass does
  std::optional<Volume> least_cut_;   // that the fewest of what may pass take more if they are cut
  MissingId caps_ = 0;
  ConductorSize largest_{}, smallest_joined_{}, largest_joined_{};
  bool cut_ = false;  // a conductor ends or is spliced here
};

BoxSpace space_of(Evaluation& e, Subject box) {
  // Of the box that was counted last: its figures are mostly asked for one after the other.
  struct Last {
    Index box = none;
    BoxSpace space;
  };
  Last& last = e.once<Last>();
  if (last.box != box.index || e.noting()) last = {box.index, Counter(e, box).count()};
  return last.space;
}

}  // namespace

Value box_space(Evaluation& e, Subject s) { return e.get(Id::box_volume, s); }
Value box_space_stated(Evaluation& e, Subject s) { return e.get(Id::box_volume_stated, s); }

Value box_conductors(Evaluation& e, Subject s) {
  const BoxSpace space = space_of(e, s);
  if (space.missing != 0) return Evaluation::lacks(space.missing);
  const Value count = Evaluation::value(number(space.conductors).count(), space.cite);
  if (space.unsaid != 0) e.detail(count, at_least);
  return count;
}

Value box_conductors_allowed(Evaluation& e, Subject s) {
  const BoxSpace space = space_of(e, s);
  if (space.missing != 0) return Evaluation::lacks(space.missing);
  const Value allowed = allowed_by_number(e, s, space);
  if (allowed.count == 0) return allowed;
  const Place& box = e.model.places[s.index];
  e.used(allowed.cite);
  if (e.noting())
    e.note(FMT_COMPILE("{} box {}: at most {} conductors of {} ({})"), name_of(box.box_kind),
           name_of(box.box_size), decimal_of({allowed.count, Unit::one}), name_of(space.size),
           e.cited(allowed.cite));
  return allowed;
}

Value box_space_needed(Evaluation& e, Subject s) {
  const BoxSpace space = space_of(e, s);
  const MissingId missing = e.missing.both(space.missing, e.missing.both(space.joined, space.unsaid));
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(space.most.count(), space.cite);
}

Value box_space_at_least(Evaluation& e, Subject s) {
  const BoxSpace space = space_of(e, s);
  if (space.missing != 0) return Evaluation::lacks(space.missing);
  if (e.noting() && (space.joined != 0 || space.unsaid != 0))
    e.detail(e.get_aside(Id::box_space, s), at_least);
  return Evaluation::value(space.least.count(), space.cite);
}

Value box_space_at_most(Evaluation& e, Subject s) {
  const BoxSpace space = space_of(e, s);
  const MissingId missing = e.missing.both(space.missing, space.unsaid);
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(space.most.count(), space.cite);
}

}  // namespace raceward::figure::compute
