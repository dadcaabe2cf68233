// The memo of figures, the pool of missing facts, and the list of figures.
#include <algorithm>
#include <array>

#include "figure/figure.hpp"

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

MissingPool::MissingPool() : sets_(1) {}

MissingId MissingPool::add(Fact fact) {
  facts_.push_back(std::move(fact));
  sets_.push_back({static_cast<std::uint32_t>(facts_.size() - 1)});
  return static_cast<MissingId>(sets_.size() - 1);
}

MissingId MissingPool::both(MissingId a, MissingId b) {
  if (a == 0 || a == b) return b;
  if (b == 0) return a;
  std::vector<std::uint32_t> joined = sets_[a];
  joined.insert(joined.end(), sets_[b].begin(), sets_[b].end());
  std::sort(joined.begin(), joined.end());
  joined.erase(std::unique(joined.begin(), joined.end()), joined.end());
  sets_.push_back(std::move(joined));
  return static_cast<MissingId>(sets_.size() - 1);
}

std::vector<const Fact*> MissingPool::facts(MissingId id) const {
  std::vector<const Fact*> out;
  for (const std::uint32_t fact : sets_[id]) {
    const bool told = std::any_of(out.begin(), out.end(), [&](const Fact* f) { return *f == facts_[fact]; });
    if (!told) out.push_back(&facts_[fact]);
  }
  return out;
}

Evaluation::Evaluation(const Installation& installation, const Law& l)
    : in(installation), model(installation.model), law(l), memos_(figure_count) {}

Evaluation::Page& Evaluation::new_page(Id id, std::size_t at) {
  Pages& pages = memos_[static_cast<std::size_t>(id)];
  if (pages.empty()) pages.resize(index_space(in, info(id).subject) / Page::size + 1);
  if (used_.size() == all_pages_.size()) all_pages_.push_back(std::make_unique<Page>());
  pages[at] = all_pages_[used_.size()].get();
  used_.emplace_back(&pages, at);
  return *pages[at];
}

const Evaluation::Prepared& Evaluation::prepared(const void* tag, std::shared_ptr<void> (*make)()) {
  for (const Prepared& each : prepared_) {
    if (each.tag == tag) return each;
  }
  return prepared_.emplace_back(Prepared{tag, make()});
}

void Evaluation::forget() {
  for (std::size_t i = 0; i < used_.size(); ++i) {
    const auto& [pages, at] = used_[i];
    (*pages)[at] = nullptr;
    std::fill(std::begin(all_pages_[i]->state), std::end(all_pages_[i]->state), std::uint8_t{0});
  }
  used_.clear();
}

Value Evaluation::compute(Id id, Subject subject, Page& memo) {
  const std::uint32_t at = subject.index % Page::size;
  // Whoever wants the arithmetic gets it once, and then the value from memory like everybody.
  bool explains = false;
  if (working_ != nullptr) {
    const auto asked = std::pair{id, subject};
    explains = std::find(working_->done.begin(), working_->done.end(), asked) == working_->done.end();
    if (explains) working_->done.push_back(asked);
  }
  if (!explains && memo.state[at] == Page::done) return memo.values[at];
  if (!explains && memo.state[at] == Page::in_work) {
    return lacks(subject, info(id).name, "", "", "the figure depends on itself");
  }
  memo.state[at] = Page::in_work;
  const Value value = info(id).compute(*this, subject);
  memo.values[at] = value;
  memo.state[at] = Page::done;
  return value;
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
