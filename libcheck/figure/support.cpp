// Support and securing of raceways.
//
// Method: supports lie at distances along the developed length from the `from` end. The ends are judged by
// the distance to the nearest support that fastens, the rest by the gaps between successive supports. An
// exception of the law counts where the datum that unlocks it is stated; where it is not, and would decide,
// the limit is missing.
#include <algorithm>
#include <optional>

#include "figure/course.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/support_facts.hpp"
#include "figure/support_law.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Why there is no row: missing facts of the raceway, or a law that is silent.
Value no_row(Evaluation& e, Subject s, const SupportRows& rows) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return e.lacks(s, "type", "a raceway type such as EMT", installer);
  if (r.trade_size == TradeSize::unstated && rows.by_size) {
    return e.lacks(s, "trade-size", "a trade size such as 3/4", installer);
  }
  return e.lacks(
      Subject{}, "raceway-support", "a row for this raceway type and trade size", ruleset_author,
      r.trade_size == TradeSize::unstated
          ? fmt::format(FMT_COMPILE("the ruleset in force says nothing of supports for {}"), name_of(r.type))
          : fmt::format(FMT_COMPILE("the ruleset in force says nothing of supports for {} {}"),
                        name_of(r.type), name_of(r.trade_size)));
}

/// The largest allowance among the exceptions that hold, and what would tell of those that may.
struct Best {
  std::int64_t value = 0;
  CitationId cite = no_citation;
  MissingId pending = 0;

  void take(Evaluation& e, std::int64_t measured, std::int64_t allows, CitationId by, const Claim& claim) {
    if (claim.holds == YesNo::yes && allows > value) {
      value = allows;
      cite = by;
    } else if (claim.holds == YesNo::unstated && measured <= allows) {
      pending = e.missing.both(pending, claim.missing);
    }
  }
  [[nodiscard]] Value result(Evaluation& e, std::int64_t measured) const {
    if (measured > value && pending != 0) return Evaluation::lacks(pending);
    e.used(cite);
    return Evaluation::value(value, cite);
  }
};

/// Rows by size may hold an exception that would decide.
void ask_size(Evaluation& e, Subject s, const SupportRows& rows, Best& best) {
  if (e.model.raceways[s.index].trade_size != TradeSize::unstated || !rows.by_size) return;
  best.pending =
      e.missing.both(best.pending, e.lacks(s, "trade-size", "a trade size such as 3/4", installer).missing);
}

void note_limit(Evaluation& e, std::string_view what, std::int64_t general, const Value& limit) {
  if (!e.noting() || !limit) return;
  const std::string by = e.cited(limit.cite);
  e.note(FMT_COMPILE("{}: at most {}{}{}"), what, shown_along(e, limit.count),
         limit.count > general ? " by exception" : "",
         by.empty() ? "" : fmt::format(FMT_COMPILE(" ({})"), by));
}

/// The farthest from an end that the law could allow, if every exception held that is not said not to.
std::int64_t farthest_end(Evaluation& e, Subject s, const SupportRows& rows) {
  std::int64_t most = rows.general.termination;
  for (const SupportRow& row : rows.exceptions) {
    const std::int64_t allows = std::max(row.termination, row.unsecured);
    if (allows <= most || asks(row.conditions, Condition::short_length)) continue;
    if (claim_of_raceway(e, s, row.conditions).holds != YesNo::no) most = allows;
  }
  return most;
}

/// How far from each of its ends the law lets the nearest fastening be.
struct EndLimits {
  Value of[2];     ///< missing: an exception that may hold would decide
  int judged = 0;  ///< of the ends that are too far the one that is most so; else the farther one
};

/// Whether an exception lets an end be as it is. `both`: both are beyond the general rule.
Claim claim_of_end(Evaluation& e, Subject s, const SupportRow& row, int end, const EndDistances& d,
                   bool both) {
  Claim claim = claim_of_raceway(e, s, row.conditions);
  if (claim.holds != YesNo::no && asks(row.conditions, Condition::unbroken)) {
    // The coupling at its other end counts as well.
    claim.also(e, d.of(end) > d.length ? Claim{YesNo::no, 0} : claim_unbroken(e, s, end, d.of(end)));
  }
  if (claim.holds != YesNo::no && asks(row.conditions, Condition::ceiling_whip)) {
    const Claim here = claim_whip(e, s, end);
    // It holds at one end; where both need it, at the one that is known to serve what hangs there.
    const bool known = here.holds == YesNo::yes && claim_whip(e, s, 1 - end).holds != YesNo::yes;
    claim.also(e, !both || known ? here : Claim{YesNo::no, 0});
  }
  if (claim.holds != YesNo::no && asks(row.conditions, Condition::flexibility_needed))
    claim.also(e, claim_flexible(e, s, end, both));
  return claim;
}

/// REQUIRES: an end is farther off than the general rule lets it be; distances are known.
EndLimits end_limits(Evaluation& e, Subject s, const SupportRows& rows, const EndDistances& d) {
  const std::int64_t general = rows.general.termination;
  const bool both = d.from > general && d.to > general;
  EndLimits out{{}, d.farther()};
  std::int64_t most = 0;  // beyond its limit
  for (const int end : {0, 1}) {
    Best best{general, rows.general.cite, 0};
    if (d.of(end) > general) {
      for (const SupportRow& row : rows.exceptions) {
        const std::int64_t allows = std::max(row.termination, row.unsecured);  // blank is the least of all
        if (allows <= general || asks(row.conditions, Condition::short_length)) continue;
        best.take(e, d.of(end), allows, row.cite, claim_of_end(e, s, row, end, d, both));
      }
      ask_size(e, s, rows, best);
    }
    out.of[end] = best.result(e, d.of(end));
    const std::int64_t excess = out.of[end] ? d.of(end) - out.of[end].count : 0;
    if (excess <= most) continue;
    most = excess;
    out.judged = end;
  }
  return out;
}

/// Where nothing fastens the raceway itself, what fastens it as it goes on through couplings, in steps along
/// it beyond its ends. Count 0: nothing does.
Fastened across(Evaluation& e, Subject s, MissingId& missing) {
  Fastened out;
  const Onward on[] = {onward(e, s, 0), onward(e, s, 1)};
  const Value length = e.get(Id::raceway_length, s);
  const RacewayEnd(&ends)[2] = e.model.raceways[s.index].ends;
  if (!length) {
    for (const Onward& one : on)
      if (one.goes_on) missing = e.missing.both(missing, length.missing);
    return out;
  }
  // What is not known of either way may bring a support nearer, or farther off.
  if (on[0].strapped || on[1].strapped)
    for (const Onward& one : on) missing = e.missing.both(missing, one.strap_missing);
  for (const int end : {0, 1}) {
    if (!on[end].strapped) continue;
    out.add(end == 0 ? -on[0].strap : length.count + on[1].strap);
    if (e.noting())
      e.note(FMT_COMPILE("nothing fastens it itself: it goes on at joint {}, and is fastened {} beyond it"),
             e.model.places[ends[end].place].id, shown_along(e, on[end].strap));
  }
  if (out.count != 0) return out;
  const SupportRows& rows = support_rows(e, e.model.raceways[s.index]);
  const std::int64_t near = rows.known ? rows.general.termination : Table::blank;
  for (const int end : {0, 1}) {
    missing = e.missing.both(missing, on[end].strap_missing);
    const Index joint = ends[end].place;
    const auto around = e.in.graph.at(joint);
    if (e.model.places[joint].kind != PlaceKind::joint || around.size() != 2) continue;
    const Index beyond = around[around[0].raceway == s.index ? 1 : 0].raceway;
    const Raceway& other = e.model.raceways[beyond];
    if (other.type == RacewayType::unstated)
      missing = e.missing.both(missing, lacks_type(e, {SubjectKind::raceway, beyond}).missing);
    const bool rigid = is_tubular(other.type) && !is_flexible(other.type) && other.supports.count != 0;
    if (!rigid || on[end].fastened_missing != 0 || length.count + on[end].fastened > near) continue;
    missing = e.missing.both(
        missing,
        e.lacks(
             s, "support", "a support that fastens it", installer_tape,
             fmt::format(FMT_COMPILE("nothing fastens it; raceway {}, to which it is coupled, is fastened {} "
                                     "beyond joint {}, and whether that will do is the inspector's to say"),
                         other.id, shown_along(e, on[end].fastened), e.model.places[joint].id))
            .missing);
  }
  return out;
}

/// The supports that the ends are judged by: those that surely fasten where these suffice, or where those
/// without a kind change nothing; all that may fasten where not even these suffice; those beyond couplings
/// where it has none. Nothing: `missing` tells what it depends on. REQUIRES: supports.missing == 0.
std::optional<Fastened> judged_by(Evaluation& e, Subject s, const Supports& supports, MissingId& missing) {
  const Fastened &surely = supports.surely, &perhaps = supports.perhaps;
  if (perhaps.count == 0) {
    const Fastened beyond = across(e, s, missing);  // other raceways' supports come in the place of these
    return missing == 0 ? std::optional(beyond) : std::nullopt;
  }
  if (supports.kinds == 0) return surely;
  if (surely.count != 0 && surely.first == perhaps.first && surely.last == perhaps.last) return surely;
  missing = supports.kinds;
  const SupportRows& rows = support_rows(e, e.model.raceways[s.index]);
  if (!rows.known || rows.general.termination == Table::blank) return std::nullopt;
  const auto worst = [&](const Fastened& f) { return end_distances(e, s, supports, f); };
  if (surely.count != 0) {
    const EndDistances d = worst(surely);
    if (d.missing == 0 && d.worst() <= rows.general.termination) return surely;
  }
  const bool any_row = e.model.raceways[s.index].trade_size != TradeSize::unstated || !rows.by_size;
  const EndDistances d = worst(perhaps);
  if (any_row && d.missing == 0 && d.worst() > farthest_end(e, s, rows)) return perhaps;
  return std::nullopt;
}

/// A raceway with those alike that go on from it through joints: a coupling makes no short piece of a long
/// one.
struct Joined {
  bool alike = false;
  std::int64_t length = 0;
  MissingId missing = 0;

  [[nodiscard]] Claim within(std::int64_t allowed) const {
    if (length > allowed) return {YesNo::no, 0};  // what is missing only adds
    return {missing == 0 ? YesNo::yes : YesNo::unstated, missing};
  }
};

Joined joined_of(Evaluation& e, Subject s, const Value& length) {
  Joined out{false, length.count, 0};
  for (const int end : {0, 1}) {
    const Onward on = onward(e, s, end);
    out.alike = out.alike || on.alike;
    out.length += on.length;
    out.missing = e.missing.both(out.missing, on.length_missing);
  }
  if (e.noting() && length && out.length > length.count) {
    e.note(FMT_COMPILE("with what goes on in the same way beyond its joints: {}{}"),
           out.missing == 0 ? "" : "at least ", shown_along(e, out.length));
  }
  return out;
}

/// The largest gap between supports: what is known of it, and what could make it larger.
struct Gap {
  std::int64_t least = 0;
  MissingId missing = 0;
  std::string where{};  ///< from where to where, while somebody asks for the arithmetic
};

/// Own supports that contradict the length, or are not recorded, tell of no gap at all.
Gap gap_of(Evaluation& e, Subject s) {
  const Onward on[] = {onward(e, s, 0), onward(e, s, 1)};
  const Supports& supports = supports_of(e, s);
  if (supports.missing != 0) return {0, supports.missing};
  const Value length = e.get(Id::raceway_length, s);
  Gap out;
  const Raceway& r = e.model.raceways[s.index];
  const auto beyond = [&](int end) {
    const std::string_view joint = e.model.places[r.ends[end].place].id;
    if (on[end].free == 0) return fmt::format(FMT_COMPILE("joint {}"), joint);
    return fmt::format(FMT_COMPILE("{} beyond joint {}"), shown_along(e, on[end].free), joint);
  };
  if (length) out.missing = beyond_end(e, s, supports, length.count);
  if (out.missing != 0) return out;
  const MissingId contradiction = course_contradiction(e, s.index);
  out.missing = e.missing.both(contradiction, e.missing.both(on[0].free_missing, on[1].free_missing));
  if (on[1].goes_on) out.missing = e.missing.both(out.missing, length.missing);
  const std::string_view least = out.missing == 0 ? "" : "at least ";
  std::size_t before = 0;
  for (std::size_t i = 0; i + 1 < supports.at.size(); ++i) {
    if (supports.at[i + 1] - supports.at[i] <= out.least) continue;
    out.least = supports.at[i + 1] - supports.at[i];
    before = i;
  }
  if (e.noting() && supports.at.size() > 1) {
    e.note(FMT_COMPILE("largest gap: from {} to {} along the raceway: {}"),
           shown_along(e, supports.at[before]), shown_along(e, supports.at[before + 1]),
           shown_along(e, out.least));
    out.where = fmt::format(FMT_COMPILE("from its support at {} to that at {}"),
                            shown_along(e, supports.at[before]), shown_along(e, supports.at[before + 1]));
  }
  if (supports.at.empty()) {
    if (!on[0].goes_on || !on[1].goes_on) return out;
    out.least = on[0].free + length.count + on[1].free;
    if (e.noting()) out.where = fmt::format(FMT_COMPILE("from {} to {}"), beyond(0), beyond(1));
    e.note(FMT_COMPILE("no support: {} of its own, {} beyond joint {} and {} beyond joint {}: {}{}"),
           shown_along(e, length.count), shown_along(e, on[0].free), e.model.places[r.ends[0].place].id,
           shown_along(e, on[1].free), e.model.places[r.ends[1].place].id, least, shown_along(e, out.least));
    return out;
  }
  for (const int end : {0, 1}) {
    if (!on[end].goes_on || (end == 1 && !length)) continue;
    const std::int64_t own = end == 0 ? supports.at.front() : length.count - supports.at.back();
    if (e.noting()) {
      e.note(FMT_COMPILE("across joint {}: {} before it and {} beyond it: {}{}"),
             e.model.places[r.ends[end].place].id, shown_along(e, own), shown_along(e, on[end].free), least,
             shown_along(e, own + on[end].free));
      if (own + on[end].free > out.least) {
        const std::int64_t last = end == 0 ? supports.at.front() : supports.at.back();
        out.where =
            fmt::format(FMT_COMPILE("from its support at {} to {}"), shown_along(e, last), beyond(end));
      }
    }
    out.least = std::max(out.least, own + on[end].free);
  }
  return out;
}

}  // namespace

Value fastenings(Evaluation& e, Subject s) {
  const Supports& supports = supports_of(e, s);
  if (supports.missing != 0) return Evaluation::lacks(supports.missing);
  MissingId missing = 0;
  const bool framing = supports.framing;
  const std::optional<Fastened> fastened = judged_by(e, s, supports, missing);
  if (!fastened) return Evaluation::lacks(missing);
  if (e.noting() && fastened->count == 0) {
    e.note(FMT_COMPILE("{}"), framing ? "the raceway rests in the framing and is fastened nowhere"
                                      : "the raceway has no support");
  }
  return Evaluation::value(number(fastened->count).count());
}

Value support_count(Evaluation& e, Subject s) {
  const bool beyond[] = {onward(e, s, 0).goes_on, onward(e, s, 1).goes_on};
  const Supports& supports = supports_of(e, s);
  if (supports.missing != 0) return Evaluation::lacks(supports.missing);
  return Evaluation::value(number(supports.at.size() + (beyond[0] ? 1 : 0) + (beyond[1] ? 1 : 0)).count());
}

Value unsupported_length_limit(Evaluation& e, Subject s) {
  const SupportRows& rows = support_rows(e, e.model.raceways[s.index]);
  if (!rows.known) return no_row(e, s, rows);
  const bool any = std::any_of(rows.exceptions.begin(), rows.exceptions.end(), [](const SupportRow& row) {
    return row.unsecured != Table::blank || row.any_length();
  });
  if (!any && !rows.by_size) return Evaluation::value(0);
  Best best;
  const Value length = e.get(Id::raceway_length, s);
  const Joined joined = joined_of(e, s, length);
  for (const SupportRow& row : rows.exceptions) {
    const bool any_length = row.any_length() && length;
    if (row.unsecured == Table::blank && !any_length) continue;
    Claim claim = claim_of_raceway(e, s, row.conditions);
    if (claim.holds != YesNo::no && asks(row.conditions, Condition::unbroken)) {
      claim.also(e, claim_unbroken(e, s, 0, length ? length.count : INT64_MAX));
      if (joined.alike) claim = {YesNo::no, 0};  // the joint is a coupling
    }
    if (!any_length && length && length.count <= row.unsecured) claim.also(e, joined.within(row.unsecured));
    if (claim.holds != YesNo::no && asks(row.conditions, Condition::ceiling_whip))
      claim.also(e, claim_whip(e, s));
    const bool by_enclosures =
        asks(row.conditions, Condition::accepted) || asks(row.conditions, Condition::pendant_stem);
    if (claim.holds != YesNo::no && !any_length && !by_enclosures)
      claim.also(e, claim_held(e, s, length ? length.count : row.unsecured, row.unsecured));
    best.take(e, length ? length.count : 0, any_length ? length.count : row.unsecured, row.cite, claim);
  }
  if (!length) return best.pending != 0 ? Evaluation::lacks(best.pending) : best.result(e, 0);
  if (const Supports& supports = supports_of(e, s); best.value >= length.count && supports.missing == 0) {
    const MissingId beyond = beyond_end(e, s, supports, length.count);
    if (beyond != 0) return Evaluation::lacks(beyond);
  }
  if (length.count > best.value) ask_size(e, s, rows, best);
  const Value limit = best.result(e, length.count);
  if (limit && limit.count > 0) note_limit(e, "length that may go without any support", 0, limit);
  return limit;
}

Value end_support_distance(Evaluation& e, Subject s) {
  const Supports& supports = supports_of(e, s);
  if (supports.missing != 0) return Evaluation::lacks(supports.missing);
  MissingId missing = 0;
  const std::optional<Fastened> fastened = judged_by(e, s, supports, missing);
  if (!fastened) return Evaluation::lacks(missing);
  if (fastened->count == 0) return e.get(Id::raceway_length, s);
  const EndDistances d = end_distances(e, s, supports_of(e, s), *fastened);
  if (d.missing != 0) return Evaluation::lacks(d.missing);
  if (e.noting()) {
    const Raceway& r = e.model.raceways[s.index];
    for (const int end : {0, 1}) {
      const Place& place = e.model.places[r.ends[end].place];
      if (d.in_earth[end]) {
        e.note(FMT_COMPILE("at {}: it goes on in earth, which carries it"), place.id);
        continue;
      }
      if (d.goes_on[end]) {
        e.note(FMT_COMPILE("at {}: it goes on as itself, so that it has no end there"), place.id);
        continue;
      }
      const std::int64_t at = end == 0 ? fastened->first : fastened->last;
      if (at < 0 || at > d.length) {
        e.note(
            FMT_COMPILE("at {}: {} of its own and {} beyond the joint to the nearest support that fastens"),
            place.id, shown_along(e, d.length), shown_along(e, at < 0 ? -at : at - d.length));
        continue;
      }
      e.note(FMT_COMPILE("at {}: {} to the nearest support that fastens ({} along the raceway{})"), place.id,
             shown_along(e, end == 0 ? d.from : d.to), shown_along(e, at),
             end == 0 ? "" : fmt::format(FMT_COMPILE(" of {}"), shown_along(e, d.length)));
    }
  }
  const SupportRows& rows = support_rows(e, e.model.raceways[s.index]);
  const bool beyond =
      rows.known && rows.general.termination != Table::blank && d.worst() > rows.general.termination;
  const EndLimits limits = beyond ? end_limits(e, s, rows, d) : EndLimits{{}, d.farther()};
  const int judged = limits.judged;
  const Value value = Evaluation::value(d.of(judged));
  if (e.noting()) {
    const auto words = [&](int end) {
      const Index at = e.model.raceways[s.index].ends[end].place;
      return installation::words_of(e.model, e.in.sections, {subject_kind(e.model.places[at].kind), at});
    };
    const int other = 1 - judged;
    const bool both = beyond && limits.of[0] && limits.of[1] && limits.of[0].count == limits.of[1].count &&
                      d.of(other) > limits.of[other].count;
    e.detail(value, both ? fmt::format(FMT_COMPILE("{} and {} from {}"), words(judged),
                                       shown_along(e, d.of(other)), words(other))
                         : words(judged));
  }
  return value;
}

Value end_support_limit(Evaluation& e, Subject s) {
  const SupportRows& rows = support_rows(e, e.model.raceways[s.index]);
  if (!rows.known) return no_row(e, s, rows);
  const std::int64_t general = rows.general.termination;
  if (general == Table::blank) return e.lacks_law("raceway-support");
  const Supports& supports = supports_of(e, s);
  MissingId missing = supports.missing;
  const std::optional<Fastened> fastened =
      missing == 0 ? judged_by(e, s, supports, missing) : std::optional<Fastened>();
  constexpr std::string_view what = "distance from an end to its nearest support";
  if (fastened && fastened->count != 0) {
    const EndDistances d = end_distances(e, s, supports_of(e, s), *fastened);
    if (d.missing == 0 && d.worst() > general) {
      const EndLimits limits = end_limits(e, s, rows, d);
      const Value limit = limits.of[limits.judged];
      const bool alike = limits.of[0].count == limits.of[1].count;
      for (const int end : {0, 1}) {
        if (!e.noting() || alike || limits.of[end].missing != 0) continue;
        const Index place = e.model.raceways[s.index].ends[end].place;
        note_limit(
            e, fmt::format(FMT_COMPILE("distance from {} to its nearest support"), e.model.places[place].id),
            general, limits.of[end]);
      }
      if (limit && alike) note_limit(e, what, general, limit);
      if (limit && d.of(limits.judged) > limit.count) return limit;
      const MissingId open = e.missing.both(limits.of[0].missing, limits.of[1].missing);
      return open != 0 ? Evaluation::lacks(open) : limit;
    }
  }
  const Value limit = Evaluation::value(general, rows.general.cite);
  e.used(rows.general.cite);
  note_limit(e, what, general, limit);
  return limit;
}

Value support_gap(Evaluation& e, Subject s) {
  const Gap gap = gap_of(e, s);
  if (gap.missing != 0) return Evaluation::lacks(gap.missing);
  const Value value = Evaluation::value(gap.least);
  e.detail(value, gap.where);
  return value;
}

Value support_gap_at_least(Evaluation& e, Subject s) {
  if (const Value gap = e.get(Id::support_gap, s)) return gap;
  const Gap gap = gap_of(e, s);
  const Value value = Evaluation::value(gap.least);
  e.detail(value, gap.where);
  return value;
}

Value support_gap_limit(Evaluation& e, Subject s) {
  const SupportRows& rows = support_rows(e, e.model.raceways[s.index]);
  if (!rows.known) return no_row(e, s, rows);
  const std::int64_t general = rows.general.spacing;
  if (general == Table::blank) return e.lacks_law("raceway-support");
  Best best{general, rows.general.cite, 0};
  const std::int64_t measured = e.get(Id::support_gap_at_least, s).count;
  if (measured > general) {
    const bool framing = supports_of(e, s).framing;
    const MissingId kinds = supports_of(e, s).kinds;
    if (framing) e.note(FMT_COMPILE("some supports rest in the framing: no exception allows a wider gap"));
    for (const SupportRow& row : rows.exceptions) {
      const std::int64_t allows = row.any_length() ? measured : row.spacing;
      if (allows <= general || framing) continue;  // blank is the least of all
      Claim claim = claim_of_raceway(e, s, row.conditions);
      if (kinds != 0) claim.also(e, {YesNo::unstated, kinds});  // they may rest in the framing
      best.take(e, measured, allows, row.cite, claim);
    }
    if (!framing) ask_size(e, s, rows, best);
  }
  const Value limit = best.result(e, measured);
  note_limit(e, "distance between supports", general, limit);
  return limit;
}

}  // namespace raceward::figure::compute
