// Entries of raceways against the walls of a box that large conductors are pulled through.
//
// Method: a box is no larger inside than its trade size, and a raceway takes more of a wall than its inside
// is wide: what does not fit is written wrong, and no pull is measured by it.
#include "figure/pull_entries.hpp"

#include <algorithm>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "figure/box_sides.hpp"
#include "figure/fill_law.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/root.hpp"

namespace raceward::figure {

namespace {

using namespace installation;

constexpr std::string_view a_side = "the inside dimension, a length such as 4in";

/// A raceway in a side wall, and what it takes of it at least.
struct Entered {
  std::uint8_t wall = 0, row = 0;
  Length width;
  Index raceway = none;

  [[nodiscard]] bool same_row(const Entered& other) const { return wall == other.wall && row == other.row; }
  [[nodiscard]] bool upright() const { return wall <= 2; }  // not law: left and right come first
};

Length width_at_least(const InsideArea& inside) {
  if (inside.diameter > Length{}) return inside.diameter;
  // A square is narrower than the circle of its area is wide.
  constexpr wide_int area_step = 10'000'000'000;  // not law: square picometres
  return Length::steps(root(wide_int{inside.area.count()} * area_step));
}

class Denied {
 public:
  Denied(Evaluation& e, Subject place) : e_(e), s_(place), place_(e.model.places[place.index]) {
    for (const Adjacent& next : e.in.graph.at(place.index)) enter(next.raceway);
    std::sort(entered_.begin(), entered_.end(), [&](const Entered& a, const Entered& b) {
      const auto key = [&](const Entered& x) {
        return std::tuple(x.wall, x.row, e.model.raceways[x.raceway].id);
      };
      return key(a) < key(b);
    });
  }

  MissingId missing() {
    against_size();
    for (const Entered& each : entered_) against_wall(each);
    against_rows();
    return missing_;
  }

 private:
  [[nodiscard]] std::string inches(Length of) const { return e_.text_of(show(of, Unit::inch)); }
  [[nodiscard]] const RacewayEnd& end_of(Index raceway) const {
    const Raceway& r = e_.model.raceways[raceway];
    return r.ends[0].place == s_.index ? r.ends[0] : r.ends[1];
  }
  /// How long a side wall is.
  [[nodiscard]] Maybe<Length> along(const Entered& at) const {
    return at.upright() ? place_.height : place_.width;
  }

  void enter(Index raceway) {
    const Raceway& r = e_.model.raceways[raceway];
    const RacewayEnd& end = end_of(raceway);
    if (end.wall == 0 || end.wall > 4) return;  // not law: the four side walls come first
    if (!is_tubular(r.type) || r.trade_size == TradeSize::unstated) return;
    const InsideArea& inside = inside_area(e_, r.type, r.trade_size);
    if (inside.known) entered_.push_back({end.wall, end.row, width_at_least(inside), raceway});
  }

  void lack(Subject element, std::string_view name, std::string_view expects, std::string why,
            Offset source = 0) {
    missing_ = e_.missing.both(
        missing_, e_.lacks(element, name, expects, installer_tape, std::move(why), source).missing);
  }

  void against_size() {
    const auto sides = nominal_sides(place_.box_size);
    if (!sides || place_.gangs > 1) return;  // not law: a size is that of one gang
    const auto named = std::minmax((*sides)[0], (*sides)[1]);
    const bool both = place_.width.known() && place_.height.known();
    const auto denied = [&](std::string_view side, Maybe<Length> has, Length most) {
      if (!has.known() || *has <= most) return;
      lack(s_, side, "the inside dimension, or the size that the box has",
           fmt::format(FMT_COMPILE("{} is more than a box of size {} has"), inches(*has),
                       name_of(place_.box_size)));
    };
    denied("width", place_.width, both && *place_.width < *place_.height ? named.first : named.second);
    denied("height", place_.height, both && *place_.height < *place_.width ? named.first : named.second);
  }

  void against_wall(const Entered& at) {
    const auto denied = [&](std::string_view name, Maybe<Length> has) {
      if (!has.known() || at.width <= *has) return;
      lack(s_, name, a_side,
           fmt::format(FMT_COMPILE("raceway {} enters by its {} wall and is {} wide inside"),
                       e_.model.raceways[at.raceway].id, wall_words[at.wall], inches(at.width)));
    };
    denied("depth", place_.depth);
    denied(at.upright() ? "height" : "width", along(at));
  }

  void against_rows() {
    for (auto first = entered_.begin(); first != entered_.end();) {
      const auto end =
          std::find_if(first, entered_.end(), [&](const Entered& x) { return !x.same_row(*first); });
      against_row(first, end);
      first = end;
    }
  }

  template <class Iterator>
  void against_row(Iterator first, Iterator end) {
    const Maybe<Length> wall = along(*first);
    const auto count = end - first;
    if (first->row == 0 || count < 2 || !wall.known()) return;
    Length sum;
    for (auto each = first; each != end; ++each) sum += each->width;
    if (sum <= *wall) return;
    const Index last = (end - 1)->raceway;
    lack({SubjectKind::raceway, last}, "row", "the row of entries on that wall, counted from 1",
         fmt::format(FMT_COMPILE("{} raceways stand in row {} of its {} wall, which is {} long, and they are "
                                 "{} wide inside together"),
                     count, first->row, wall_words[first->wall], inches(*wall), inches(sum)),
         end_of(last).source);
  }

  Evaluation& e_;
  Subject s_;
  const Place& place_;
  std::vector<Entered> entered_;
  MissingId missing_ = 0;
};

}  // namespace

MissingId entries_denied(Evaluation& e, Subject place) { return Denied(e, place).missing(); }

}  // namespace raceward::figure
