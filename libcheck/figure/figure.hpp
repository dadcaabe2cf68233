// Figures: named values derived from an installation under a law, each computed at most once, by demand.
//
// A figure is a pure function of (installation, law, subject). It reads other figures through
// Evaluation::get, notes its arithmetic only when somebody asks for it, and says "missing, because" where a
// fact is absent or contradictory. The list of figures stands in figures.def. Nothing here throws or prints.
#pragma once

#include <fmt/compile.h>

#include <array>
#include <cstdint>
#include <memory>
#include <mutex>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "figure/missing_pool.hpp"
#include "installation/derived.hpp"
#include "raceward/law.hpp"
#include "raceward/rule.hpp"

namespace raceward::figure {

using installation::Index;
using installation::Place;  // raceward::Place is a place in a file

/// A computed figure. `count` is in steps of the figure's unit's dimension.
struct Value {
  std::int64_t count = 0;
  MissingId missing = 0;          ///< 0: known
  CitationId cite = no_citation;  ///< row or parameter that it was taken from, where it was
  Subject place{};                ///< element that it is about, where that is not the subject

  explicit operator bool() const { return missing == 0; }
};

enum class Id : std::uint16_t {
#define RACEWARD_FIGURE(identifier, name, subject, unit, reads, about) identifier,
#include "figure/figures.def"
#undef RACEWARD_FIGURE
};
inline constexpr std::size_t figure_count = 0
#define RACEWARD_FIGURE(identifier, name, subject, unit, reads, about) +1
#include "figure/figures.def"
#undef RACEWARD_FIGURE
    ;

/// The arithmetic of a figure, a line a step, with the values put in; and the citations of what it used.
struct Working {
  std::vector<std::string> lines;
  std::vector<CitationId> cites;
  std::vector<std::pair<Id, Subject>> done;  ///< figures already explained, so that each is explained once
  /// What values say of themselves in words, for headlines: "12 AWG, and 10 AWG is required".
  struct Detail {
    std::int64_t count = 0;
    Subject place{};
    std::string text;
  };
  std::vector<Detail> details;
  /// The last of a value; empty where there is none.
  [[nodiscard]] std::string_view detail_of(std::int64_t count, Subject place, Subject subject) const;

  void clear() {
    details.clear();
    lines.clear();
    cites.clear();
    done.clear();
  }
};

class Evaluation;
using Function = Value (*)(Evaluation&, Subject);

/// What is known of a figure without computing it.
struct Info {
  Id id;
  std::string_view name;  ///< "raceway-fill"
  SubjectKind subject;    ///< several figures serve every place kind: see applies_to
  Unit unit;              ///< how it is shown
  std::string_view
      reads;  ///< attributes and elements that it reads: "raceway@type raceway@trade-size support"
  std::string_view about;  ///< one sentence: what it is
  Function compute;
};
std::span<const Info> all();
const Info* find(std::string_view name);
inline const Info& info(Id id) { return all()[static_cast<std::size_t>(id)]; }

/// What figures make of a law alone (rows by size, limits by type): each made once, and kept for all who read
/// the same law, on whatever thread. The law must outlive it unchanged.
class LawNotes {
 public:
  explicit LawNotes(const Law& law) : law_(law) {}
  /// REQUIRES: `make` belongs to the tag.
  std::shared_ptr<void> kept(const void* tag, std::shared_ptr<void> (*make)(const Law&));

 private:
  const Law& law_;
  std::mutex guard_;
  std::vector<std::pair<const void*, std::shared_ptr<void>>> made_;
};

/// The unit in which reports under a law tell what a figure has in another of its dimension.
Unit told_in(const Law& law, Unit unit);

/// One check's figures over one installation under one law. Not shared between threads: one for each.
class Evaluation {
 public:
  /// `notes` of the same law, or none for notes of its own.
  Evaluation(const Installation& installation, const Law& law, std::shared_ptr<LawNotes> notes = nullptr);

  const Installation& in;
  const installation::Model& model;
  const Law& law;
  MissingPool missing;

  /// The figure of a subject, from memory where it was computed before.
  Value get(Id id, Subject subject) {
    const Memo memo = this->memo(id, subject.index);
    return *(*memo.state == Memo::done && working_ == nullptr ? memo.value : compute(id, subject, memo));
  }
  /// Gives up the memory of figures, so that it stays small and near; sets of missing facts and what is made
  /// once stay. For whoever goes through a large installation part by part.
  void forget();
  /// The figure, and none of its arithmetic even where somebody asks for that.
  Value get_aside(Id id, Subject subject);
  /// The figure again with its arithmetic and that of every figure it reads, in the order of need.
  Value explain(Id id, Subject subject, Working& working);

  /// True while somebody asks for the arithmetic. Write:
  /// if (e.noting()) e.note(FMT_COMPILE("{} + {} = {}"), a, b, c);
  [[nodiscard]] bool noting() const { return working_ != nullptr; }
  template <class Text, class... Args>
  requires(fmt::detail::is_compiled_string<Text>::value) void note(const Text& text, const Args&... args) {
    if (working_ == nullptr) return;
    line_.clear();
    fmt::format_to(fmt::appender(line_), text, args...);
    keep({line_.data(), line_.size()});
  }
  void used(CitationId cite);
  /// What a value says of itself in the headline of a finding, where {detail} stands.
  void detail(const Value& of, std::string text) {
    if (working_ != nullptr) working_->details.push_back({of.count, of.place, std::move(text)});
  }

  /// A value, or a missing one. `cite` is noted as used.
  static Value value(std::int64_t count, CitationId cite = no_citation) { return Value{count, 0, cite, {}}; }
  Value lacks(Subject element, std::string_view name, std::string_view expects, std::string_view who,
              std::string why = {}, installation::Offset source = 0);
  static Value lacks(MissingId missing) { return Value{0, missing, no_citation, {}}; }

  /// A parameter or a table of the law; where the law has none, the answer is missing and says so (ask with
  /// lacks_law).
  Value lacks_law(std::string_view what);

  /// What a family of figures prepares once for a whole check (row look-ups, a pass over the graph): a T of
  /// this evaluation, default-constructed at first use. O(number of such families).
  template <class T>
  T& once() {
    static constexpr char tag = 0;
    return *static_cast<T*>(
        prepared(&tag, [](Evaluation&) { return std::shared_ptr<void>(std::make_shared<T>()); }));
  }
  /// The same of what hangs on the law alone: a T that has read it, `void T::read(const Law&)`.
  template <class T>
  const T& of_law() {
    static constexpr char tag = 0;
    return *static_cast<const T*>(prepared(&tag, [](Evaluation& e) {
      return e.notes_->kept(&tag, [](const Law& law) -> std::shared_ptr<void> {
        auto made = std::make_shared<T>();
        made->read(law);
        return made;
      });
    }));
  }

  /// An amount as working lines show it: "245.8 mL" where the law in force is metric.
  [[nodiscard]] std::string text_of(const Amount& amount) const;
  /// "section 358.30(A)" for working lines.
  [[nodiscard]] std::string cited(CitationId cite) const;

 private:
  /// Where the value of one figure of one subject is kept.
  struct Memo {
    enum : std::uint8_t { not_yet, in_work, done };
    std::uint8_t* state;
    Value* value;
  };
  /// Values of one figure for so many subjects that follow one another, with their states before them. Powers
  /// of two, so that values stand where they must.
  static constexpr std::uint32_t smallest_page = 8, largest_page = 256;  // not law: subjects
  static constexpr std::size_t pages_a_block = 32;                       // not law: pages
  Memo memo(Id id, std::uint32_t index) {
    const std::size_t slot = first_slot_[static_cast<std::size_t>(id)] + (index >> page_shift_);
    std::byte* const page = slots_[slot] != nullptr ? slots_[slot] : new_page(slot);
    const std::uint32_t size = 1u << page_shift_, at = index & (size - 1);
    return {reinterpret_cast<std::uint8_t*>(page) + at, reinterpret_cast<Value*>(page + size) + at};
  }
  [[nodiscard]] std::size_t page_size() const {
    return (std::size_t{1} << page_shift_) * (1 + sizeof(Value));
  }
  /// The i-th of the pages that there are.
  [[nodiscard]] std::byte* page(std::size_t i) const {
    return all_pages_[i / pages_a_block].get() + i % pages_a_block * page_size();
  }
  std::byte* new_page(std::size_t slot);
  const Value* compute(Id id, Subject subject, const Memo& memo);

  struct Prepared {
    const void* tag = nullptr;  // stands for the type
    std::shared_ptr<void> held;
  };
  void* prepared(const void* tag, std::shared_ptr<void> (*make)(Evaluation&)) {
    // Tags stand side by side, so that each has a place of its own here.
    Prepared& near = near_[reinterpret_cast<std::uintptr_t>(tag) % near_.size()];
    if (near.tag != tag) near = find_or_make(tag, make, near.tag == nullptr);
    return near.held.get();
  }
  /// `new_here`: nothing whose place it is was prepared yet, and so neither was this.
  Prepared find_or_make(const void* tag, std::shared_ptr<void> (*make)(Evaluation&), bool new_here);
  /// Adds a line of working; one that stands there already says nothing new.
  void keep(std::string_view line);

  std::uint32_t page_shift_ = 0;
  std::vector<std::size_t> first_slot_;                  // by figure
  std::vector<std::byte*> slots_;                        // of pages; null: nothing asked yet
  std::vector<std::size_t> used_;                        // slots that have a page
  std::vector<std::unique_ptr<std::byte[]>> all_pages_;  // blocks of them; the first used_.size() are in use
  std::shared_ptr<LawNotes> notes_;
  std::vector<Prepared> prepared_;
  std::array<Prepared, 64> near_;  // of prepared_, where they are found at once
  Value circular_;                 // of the figure that depends on itself, until somebody has copied it
  Working* working_ = nullptr;
  fmt::memory_buffer line_;  // kept, so that a line costs no more memory than itself
};

/// Phases of a supply: of more ungrounded conductors some are of one phase.
inline constexpr std::uint32_t most_phases = 3;  // not law: phases

/// Who could supply a fact, in the words that reports use.
inline constexpr std::string_view installer = "the installer, on site";
inline constexpr std::string_view installer_tape = "the installer, with a tape measure";
inline constexpr std::string_view designer = "whoever planned the circuit";
inline constexpr std::string_view marking = "the marking on the part, or its maker's data";
/// Of a value that the law in force lacks: no document can supply it.
inline constexpr std::string_view ruleset_author = "the author of the ruleset";

#define RACEWARD_FIGURE(identifier, name, subject, unit, reads, about) Value identifier(Evaluation&, Subject);
namespace compute {
#include "figure/figures.def"
}
#undef RACEWARD_FIGURE

}  // namespace raceward::figure
