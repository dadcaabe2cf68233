#include "facts/stated.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>

namespace raceward::facts {

namespace {

using Kind = DeclaredFact::Kind;

std::string expected(const DeclaredFact& fact) {
  const std::string value =
      fact.kind == Kind::yes_no ? "yes or no"
      : fact.kind == Kind::date ? "a date such as 2026-05-01"
      : fact.kind == Kind::quantity
          ? "a number" +
                (fact.unit == Unit::one ? std::string{} : fmt::format(" in {}", symbol_of(fact.unit)))
      : fact.words.empty() ? std::string("a word")
                           : fmt::format("{}", fmt::join(fact.words, ", "));
  return fmt::format("<fact name=\"{}\" of=\"...\" value=\"...\"/>: {}; {}", fact.name, fact.title, value);
}

struct Shared {
  std::unique_ptr<Stated> stated;
};

}  // namespace

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

Stated::Stated(figure::Evaluation& e) : e_(e) {
  for (const installation::StatedFact& fact : e.model.facts) stated_[{fact.of, fact.name}].push_back(&fact);
}

Stated::Value Stated::of(const DeclaredFact& fact, Subject subject) const {
  const std::string id = subject.kind == SubjectKind::installation
                             ? std::string(e_.model.id)
                             : installation::id_of(e_.model, e_.in.sections, subject);
  const auto found = stated_.find({id, fact.name});
  Value out;
  if (found == stated_.end()) {
    out.absent = true;
    out.why = fmt::format("no <fact name=\"{}\"> states it", fact.name);
    return out;
  }
  const std::string_view value = trimmed(found->second.front()->value);
  for (const installation::StatedFact* other : found->second) {
    if (trimmed(other->value) == value) continue;
    out.why = fmt::format("{} is stated twice, and not alike", fact.name);
    return out;
  }
  const bool closed = fact.kind == Kind::word && !fact.words.empty();
  if ((closed && std::find(fact.words.begin(), fact.words.end(), value) == fact.words.end()) ||
      (fact.kind == Kind::yes_no && value != "yes" && value != "no")) {
    out.why = fmt::format("\"{}\" is none of the words declared for {}", value, fact.name);
  } else if (fact.kind == Kind::date && !is_date(value)) {
    out.why = fmt::format("\"{}\" is no date", value);
  } else if (fact.kind == Kind::quantity) {
    const Parsed<Amount> amount = parse_amount(value, dimension_of(fact.unit));
    if (amount)
      out.count = amount->count;
    else
      out.why = fmt::format("\"{}\" cannot be read as {}: {}", value, fact.name, amount.error().what);
  }
  if (out.why.empty()) out.text = value;
  return out;
}

MissingId Stated::missing(const DeclaredFact& fact, Subject subject, std::string why) {
  Asked& asked = asked_[&fact];
  if (asked.name.empty()) asked = {std::string(stated_fact) + fact.name, expected(fact)};
  return e_.lacks(subject, asked.name, asked.expects, figure::installer, std::move(why)).missing;
}

Stated& stated_in(figure::Evaluation& e) {
  auto& shared = e.once<Shared>();
  if (!shared.stated) shared.stated = std::make_unique<Stated>(e);
  return *shared.stated;
}

}  // namespace raceward::facts
