#include "ruleset/exclusion.hpp"

#include <algorithm>

#include "document/vocabulary.hpp"
#include "facts/shape.hpp"
#include "figure/figure.hpp"

namespace raceward::ruleset {
namespace {

using Bound = Condition::Bound;
using enum Condition::Kind;

/// A condition that must hold, or must not.
struct Wanted {
  const Condition* condition;
  bool holds;
};

bool same_thing(const Condition& a, const Condition& b) {
  return a.kind == b.kind && a.element == b.element && a.name == b.name &&
         (a.kind != Condition::Kind::count || a.parts == b.parts);
}

int compared(const Bound& a, const Bound& b) {
  if (!a.date.empty() || !b.date.empty()) return a.date.compare(b.date);
  return a.amount.count < b.amount.count ? -1 : a.amount.count > b.amount.count ? 1 : 0;
}

bool is_strict(const Bound& b) {
  return b.kind == Bound::Kind::more_than || b.kind == Bound::Kind::less_than;
}

/// Whether the one bound, below or above, lets nothing through that the other does not; `up`: 1 below, -1
/// above.
bool as_tight(const Bound& a, const Bound& b, int up) {
  if (b.kind == Bound::Kind::none) return true;
  if (a.kind == Bound::Kind::none) return false;
  const int order = compared(a, b) * up;
  return order > 0 || (order == 0 && (is_strict(a) || !is_strict(b)));
}

bool lies_within(const Condition& a, const Condition& b) {
  return as_tight(a.low, b.low, 1) && as_tight(a.high, b.high, -1);
}

/// Takes the words of the other away, or leaves those alone.
void keep(std::vector<std::string>& words, const Condition& other, bool those) {
  std::erase_if(words, [&](const std::string& word) {
    return (std::find(other.words.begin(), other.words.end(), word) != other.words.end()) != those;
  });
}

class Search {
 public:
  Search(std::optional<SubjectKind> about, const DeclaredFacts& facts) : about_(about), facts_(facts) {}

  /// Whether all can be met; says what cannot otherwise.
  bool possible(std::vector<Wanted> open, std::vector<Wanted> simple) {
    while (!open.empty()) {
      if (++steps_ > most_steps) return true;
      const Wanted next = open.back();
      open.pop_back();
      const Condition& c = *next.condition;
      if ((c.kind == any || c.kind == all || c.kind == none_of) && c.parts.empty())
        continue;  // said elsewhere
      if (c.kind != all && c.kind != any && c.kind != none_of) {
        simple.push_back(next);
        if (excluded(simple)) return false;
        continue;
      }
      // All of it where all must hold, and none where none may: each part. Else one of them is enough.
      const bool each = next.holds == (c.kind != any);
      const bool holds = next.holds != (c.kind == none_of);
      if (each) {
        for (const Condition& part : c.parts) open.push_back({&part, holds});
        continue;
      }
      return std::any_of(c.parts.begin(), c.parts.end(), [&](const Condition& part) {
        std::vector<Wanted> with = open;
        with.push_back({&part, holds});
        return possible(std::move(with), simple);
      });
    }
    return true;
  }
  [[nodiscard]] const std::string& why() const { return why_; }

  /// Whether each thing that it asks for has one value of the subject.
  [[nodiscard]] bool of_one_value(const Condition& c) const {
    if (c.kind == any || c.kind == all || c.kind == none_of)
      return std::all_of(c.parts.begin(), c.parts.end(),
                         [&](const Condition& part) { return of_one_value(part); });
    return has_one_value(c);
  }

 private:
  static constexpr std::size_t most_steps = 10'000;  // of conditions that somebody wrote by hand

  /// Whether the last one cannot be met with those before it.
  bool excluded(const std::vector<Wanted>& simple) {
    std::vector<Wanted> same;
    for (const Wanted& w : simple) {
      if (same_thing(*w.condition, *simple.back().condition)) same.push_back(w);
    }
    const bool one = has_one_value(*same.front().condition);
    for (const Wanted& a : same) {
      if (!a.holds) continue;
      std::vector<std::string> words = a.condition->words;
      const bool of_words = !words.empty();
      for (const Wanted& b : same) {
        if (b.condition == a.condition && b.holds) continue;
        bool meet = true;
        if (of_words && !b.condition->words.empty()) {
          if (one || !b.holds) keep(words, *b.condition, b.holds);
          meet = !words.empty();
        } else if (!of_words && b.condition->words.empty()) {
          meet = b.holds ? !one || !(apart(a.condition->high, b.condition->low) ||
                                     apart(b.condition->high, a.condition->low))
                         : a.condition->kind != attested && !lies_within(*a.condition, *b.condition);
        }
        if (!meet) return told(a, b);
      }
    }
    return false;
  }

  bool told(const Wanted& a, const Wanted& b) {
    const auto words = [](const Wanted& w) {
      const std::string own = words_of(*w.condition);
      return w.holds ? "\"" + own + "\"" : "\"not (" + own + ")\"";
    };
    why_ = words(a) + " and " + words(b);
    return true;
  }

  bool has_one_value(const Condition& c) const {
    if (c.kind == attested || c.kind == Condition::Kind::count) return true;
    SubjectKind of = SubjectKind::installation;
    if (c.kind == fact) {
      const auto found = facts_.find(c.name);
      if (found == facts_.end()) return false;
      of = found->second.of;
    } else if (c.kind == Condition::Kind::figure) {
      const figure::Info* found = figure::find(c.name);
      if (found == nullptr) return false;
      of = found->subject;
    } else {
      if (is_list(c)) return false;
      of = facts::kind_of(c.element == "wiring" ? "circuit" : c.element);
    }
    return of == SubjectKind::installation || (about_ && of == *about_ && of != SubjectKind::place);
  }

  /// Marks of an insulation, ids.
  static bool is_list(const Condition& c) {
    using Form = document::Form::Kind;
    const std::uint8_t element = document::element_words.find(c.element);
    if (element == 0) return true;
    const document::ElementRow& row = document::row_of(static_cast<document::Element>(element - 1));
    const std::uint8_t at = row.attributes.find(c.name);
    if (at == 0) return true;
    const Form form = row.rows[at - 1U].form.kind;
    return form == Form::insulations || form == Form::references || form == Form::conductor_references;
  }

  std::optional<SubjectKind> about_;
  const DeclaredFacts& facts_;
  std::size_t steps_ = 0;
  std::string why_;
};

bool contradict(const Condition& a, const Condition& b) {
  if (a.kind == none_of) {
    // What the one refuses, the other asks for: enough where they are the same words.
    for (const Condition& part : a.parts) {
      if (part.kind == b.kind && part.element == b.element && part.name == b.name && part.words == b.words &&
          words_of(part) == words_of(b))
        return true;
    }
    return false;
  }
  if (b.kind == none_of) return contradict(b, a);
  if (a.kind != b.kind || a.element != b.element || a.name != b.name) return false;
  if (!a.words.empty() && !b.words.empty()) {
    return std::none_of(a.words.begin(), a.words.end(), [&](const std::string& word) {
      return std::find(b.words.begin(), b.words.end(), word) != b.words.end();
    });
  }
  return apart(a.high, b.low) || apart(b.high, a.low);
}

}  // namespace

bool apart(const Bound& high, const Bound& low) {
  if (high.kind == Bound::Kind::none || low.kind == Bound::Kind::none) return false;
  const int order = compared(high, low);
  return order < 0 || (order == 0 && (is_strict(high) || is_strict(low)));
}

std::optional<std::string> never_hold(const std::vector<Condition>& all_of, std::optional<SubjectKind> about,
                                      const DeclaredFacts& facts) {
  Search search(about, facts);
  std::vector<Wanted> open;
  for (const Condition& c : all_of) open.push_back({&c, true});
  if (search.possible(std::move(open), {})) return std::nullopt;
  return search.why();
}

bool always_holds(const Condition& given, const Condition& must, SubjectKind about,
                  const DeclaredFacts& facts) {
  Search search(about, facts);
  return search.of_one_value(must) && !search.possible({{&must, false}, {&given, true}}, {});
}

bool exclude_each_other(const Condition& a, const Condition& b) {
  for (const Condition& one : a.parts) {
    for (const Condition& other : b.parts) {
      if (contradict(one, other)) return true;
    }
  }
  return false;
}

}  // namespace raceward::ruleset
