// The memo of figures, and the list of figures.
#include <algorithm>
#include <array>
#include <bit>
#include <new>

#include "figure/figure.hpp"
#include "quantity/feet.hpp"

namespace raceward::figure {

namespace {

constexpr std::array<Info, figure_count> infos = {{
#define RACEWARD_FIGURE(identifier, name, subject, unit, reads, about) \
  Info{Id::identifier, name, SubjectKind::subject, Unit::unit, reads, about, &compute::identifier},
#include "figure/figures.def"
#undef RACEWARD_FIGURE
}};

/// Place kinds share one index space, so a figure of any place kind keeps one value a place.
std::size_t index_space(const Installation& in, SubjectKind kind) {
  if (is_place(kind)) return in.model.places.size();
  return installation::count_of(in.model, in.sections, kind);
}

}  // namespace

std::span<const Info> all() { return infos; }

const Info* find(std::string_view name) {
  const auto at = std::find_if(infos.begin(), infos.end(), [&](const Info& i) { return i.name == name; });
  return at == infos.end() ? nullptr : &*at;
}

std::shared_ptr<void> LawNotes::kept(const void* tag, std::shared_ptr<void> (*make)(const Law&)) {
  const std::lock_guard lock(guard_);
  for (const auto& [of, held] : made_) {
    if (of == tag) return held;
  }
  return made_.emplace_back(tag, make(law_)).second;
}

Evaluation::Evaluation(const Installation& installation, const Law& l, std::shared_ptr<LawNotes> notes)
    : in(installation),
      model(installation.model),
      law(l),
      missing(installation),
      notes_(notes != nullptr ? std::move(notes) : std::make_shared<LawNotes>(l)) {
  std::array<std::size_t, subject_kind_count> spaces{};
  for (std::size_t kind = 0; kind < spaces.size(); ++kind)
    spaces[kind] = index_space(in, static_cast<SubjectKind>(kind));
  // A small installation needs small pages: most of the cost of its check would be their memory.
  const std::size_t most = *std::max_element(spaces.begin(), spaces.end());
  page_shift_ = static_cast<std::uint32_t>(
      std::bit_width(std::clamp<std::size_t>(most, smallest_page, largest_page) - 1));
  first_slot_.reserve(infos.size());
  std::size_t slots = 0;
  for (const Info& each : infos) {
    first_slot_.push_back(slots);
    slots += (spaces[static_cast<std::size_t>(each.subject)] >> page_shift_) + 1;
  }
  slots_.resize(slots);
  prepared_.reserve(near_.size());
}

std::byte* Evaluation::new_page(std::size_t slot) {
  static_assert(std::is_trivially_copyable_v<Value> && std::is_trivially_destructible_v<Value>);
  const std::size_t size = std::size_t{1} << page_shift_, next = used_.size();
  if (next == all_pages_.size() * pages_a_block) {
    all_pages_.emplace_back(new std::byte[pages_a_block * page_size()]);
    // Values are written before they are read: only their states need a beginning.
    for (std::size_t i = 0; i < pages_a_block; ++i)
      std::fill_n(page(next + i), size, std::byte{Memo::not_yet});
  }
  slots_[slot] = page(next);
  used_.push_back(slot);
  return slots_[slot];
}

Unit told_in(const Law& law, Unit unit) {
  if (!law.metric) return unit;
  switch (unit) {
    case Unit::inch:
      return Unit::millimetre;
    case Unit::foot:
      return Unit::metre;
    case Unit::square_inch:
      return Unit::square_millimetre;
    case Unit::cubic_inch:
      return Unit::millilitre;
    case Unit::fahrenheit:
      return Unit::celsius;
    default:
      return unit;
  }
}

std::string Evaluation::text_of(const Amount& amount) const {
  const Unit unit = told_in(law, amount.unit);
  if (unit == Unit::foot) return quantity::feet_of(amount.count);
  if (unit == amount.unit) return raceward::text_of(amount);
  constexpr std::int64_t metre = 1'000'000'000;                     // not law: a thousandth
  constexpr std::int64_t length = 10'000'000, volume = 10'000'000;  // not law: hundredths of mm, mL
  constexpr std::int64_t area = 1'000'000;                          // not law: hundredths of mm2
  const Dimension dimension = dimension_of(unit);
  const std::int64_t step = unit == Unit::metre              ? metre
                            : dimension == Dimension::length ? length
                            : dimension == Dimension::area   ? area
                            : dimension == Dimension::volume ? volume
                                                             : 1;
  const std::int64_t half = amount.count < 0 ? -step / 2 : step / 2;
  return raceward::text_of({detail::saturate((wide_int{amount.count} + half) / step * step), unit});
}

Evaluation::Prepared Evaluation::find_or_make(const void* tag, std::shared_ptr<void> (*make)(Evaluation&),
                                              bool new_here) {
  if (!new_here) {
    for (const Prepared& each : prepared_) {
      if (each.tag == tag) return each;
    }
  }
  Prepared made{tag, make(*this)};
  prepared_.push_back(made);
  return made;
}

void Evaluation::forget() {
  for (std::size_t i = 0; i < used_.size(); ++i) {
    slots_[used_[i]] = nullptr;
    std::fill_n(page(i), std::size_t{1} << page_shift_, std::byte{Memo::not_yet});
  }
  used_.clear();
}

const Value* Evaluation::compute(Id id, Subject subject, const Memo& memo) {
  // Whoever wants the arithmetic gets it once, and then the value from memory like everybody.
  bool explains = false;
  if (working_ != nullptr) {
    const auto asked = std::pair{id, subject};
    explains = std::find(working_->done.begin(), working_->done.end(), asked) == working_->done.end();
    if (explains) working_->done.push_back(asked);
  }
  if (!explains && *memo.state == Memo::done) return memo.value;
  if (!explains && *memo.state == Memo::in_work) {
    circular_ = lacks(subject, info(id).name, "", "", "the figure depends on itself");
    return &circular_;
  }
  *memo.state = Memo::in_work;
  // Made where it is kept: to copy what was written a moment ago makes the processor wait.
  const Value* const made = new (memo.value) Value(info(id).compute(*this, subject));
  *memo.state = Memo::done;
  return made;
}

Value Evaluation::explain(Id id, Subject subject, Working& working) {
  Working* const former = std::exchange(working_, &working);
  const Value value = get(id, subject);
  working_ = former;
  return value;
}

Value Evaluation::get_aside(Id id, Subject subject) {
  Working* const former = std::exchange(working_, nullptr);
  const Value value = get(id, subject);
  working_ = former;
  return value;
}

void Evaluation::keep(std::string_view line) {
  std::vector<std::string>& lines = working_->lines;
  if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.emplace_back(line);
}

std::string_view Working::detail_of(std::int64_t count, Subject place, Subject subject) const {
  const auto own = [&](const Detail& d) {
    return d.count == count && (d.place == place || (d.place == Subject{} && place == subject));
  };
  const auto last = std::find_if(details.rbegin(), details.rend(), own);
  return last == details.rend() ? std::string_view{} : std::string_view(last->text);
}

void Evaluation::used(CitationId cite) {
  if (working_ == nullptr || cite == no_citation) return;
  if (std::find(working_->cites.begin(), working_->cites.end(), cite) == working_->cites.end()) {
    working_->cites.push_back(cite);
  }
}

Value Evaluation::lacks(Subject element, std::string_view name, std::string_view expects,
                        std::string_view who, std::string why, installation::Offset source) {
  return lacks(missing.add(Fact{element, source, name, expects, who, std::move(why)}));
}

Value Evaluation::lacks_law(std::string_view what) {
  return lacks(Subject{}, what, "a value", ruleset_author, "the ruleset in force does not give it");
}

std::string Evaluation::cited(CitationId cite) const {
  if (cite == no_citation) return {};
  const Citation& c = law.citation(cite);
  return c.section;
}

}  // namespace raceward::figure
