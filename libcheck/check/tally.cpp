#include "check/tally.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <utility>

#include "check/wording.hpp"

namespace raceward::checking {

namespace {

std::string what(const BoundRule& bound) { return fmt::format("rule {}", bound.id()); }

LedgerLine heading(const BoundRule& bound) {
  const RuleSetting::Force force = bound.setting->force;
  const bool conditional = force == RuleSetting::Force::off;
  return {.rule = std::string(bound.id()),
          .title = std::string(bound.rule != nullptr ? bound.rule->title : std::string_view{}),
          .force = conditional ? RuleSetting::Force::required : force};
}

/// "no bends are made in it (12), its course is given by points (2)", the most frequent first.
std::string reasons_of(const Rule& rule, const Tally& tally) {
  std::vector<std::size_t> order(tally.reasons.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return tally.reasons[a] > tally.reasons[b]; });
  const auto told = static_cast<std::size_t>(
      std::count_if(tally.reasons.begin(), tally.reasons.end(), [](std::uint64_t n) { return n > 0; }));
  std::string out;
  for (std::size_t i = 0; i < told; ++i) {
    const std::size_t reason = order[i];
    const std::string_view text = reason < rule.reasons.size() ? rule.reasons[reason]
                                  : tally.off_here > 0         ? "the ruleset does not ask it there"
                                                               : "no reason is given";
    out += i == 0 ? "" : "; ";
    out += told == 1 ? std::string(text) : fmt::format("{} ({})", text, tally.reasons[reason]);
  }
  return out;
}

}  // namespace

void Tally::leave_out(const Rule& rule, std::size_t reason) {
  ++not_applicable;
  if (reasons.empty()) reasons.resize(rule.reasons.size() + 1);
  ++reasons[std::min(reason, rule.reasons.size())];
}

void Tally::add(Tally more) {
  complies += more.complies;
  violates += more.violates;
  advised += more.advised;
  undetermined += more.undetermined;
  not_applicable += more.not_applicable;
  compared += more.compared;
  at_limit += more.at_limit;
  off_here += more.off_here;
  if (reasons.empty())
    reasons = std::move(more.reasons);
  else
    for (std::size_t i = 0; i < more.reasons.size(); ++i) reasons[i] += more.reasons[i];
  if (more.faults > 0 && (faults == 0 || more.first_position < first_position)) {
    first_fault = std::move(more.first_fault);
    first_at = std::move(more.first_at);
    first_position = more.first_position;
  }
  faults += more.faults;
}

LedgerLine ledger_line(const BoundRule& bound, const Tally& tally) {
  LedgerLine line = heading(bound);
  line.complies = tally.complies;
  line.violates = tally.violates;
  line.advised = tally.advised;
  line.undetermined = tally.undetermined;
  line.not_applicable = tally.not_applicable;
  line.faults = tally.faults;
  line.compared = tally.compared;
  line.at_limit = tally.at_limit;
  return line;
}

LedgerLine ledger_line(const BoundRule& bound, std::uint64_t subjects) {
  LedgerLine line = heading(bound);
  line.undetermined = line.faults = std::max<std::uint64_t>(1, subjects);
  return line;
}

void tell_not_checked(const BoundRule& bound, const Tally& tally, std::vector<NotChecked>& out) {
  const Rule& rule = *bound.rule;
  const std::uint64_t asked = tally.asked();
  if (tally.faults > 0) {
    const std::string others =
        tally.faults == 1 ? std::string{}
                          : fmt::format(", and at {} more {}", tally.faults - 1, plural_of(rule.subject));
    out.push_back({what(bound),
                   fmt::format("fault of the rule at {}{}: {}", tally.first_at, others, tally.first_fault)});
  }
  if (asked == 0) {
    out.push_back({what(bound), fmt::format("there are no {} here", plural_of(rule.subject))});
  } else if (tally.not_applicable == asked) {
    const std::string_view subject = asked == 1 ? name_of(rule.subject) : plural_of(rule.subject);
    out.push_back({what(bound), fmt::format("did not apply to {} {}: {}",
                                            asked == 1 ? "the only" : fmt::format("any of {}", asked),
                                            subject, reasons_of(rule, tally))});
  }
}

void tell_not_asked(const BoundRule& bound, const Law& law, std::vector<NotChecked>& out) {
  if (bound.setting == nullptr) {
    out.push_back({what(bound), fmt::format("ruleset {} does not use it", law.id)});
  } else if (!bound.in_force()) {
    out.push_back({what(bound), fmt::format("ruleset {} switches it off", law.id)});
  } else {
    out.push_back({what(bound), bound.fault});
  }
}

}  // namespace raceward::checking
