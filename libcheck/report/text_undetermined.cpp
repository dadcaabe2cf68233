// What could not be judged, by the fact that is missing: one answer may settle many verdicts.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

constexpr std::size_t indent = 4;
constexpr std::size_t label_width = 11;

using Key = std::tuple<std::string, std::string, std::string, std::string>;  // datum, why, expects, who

struct Group {
  std::vector<const Need*> needs;                            // each element once
  std::vector<std::pair<std::string, std::string>> waiting;  // rule, subjects
  std::size_t verdicts = 0;
  const Finding* last = nullptr;  // so that a verdict that waits for several elements counts once
};

Key key_of(const Need& need) {
  return {need.datum.empty() ? need.fact : need.datum, need.why, need.expects, need.who};
}

using Groups = std::map<Key, Group>;

/// Elements that several verdicts wait for are listed once.
bool same_element(const Need* a, const Need* b) {
  return a->element == b->element && a->place.line == b->place.line && a->place.column == b->place.column;
}

void add_waiting(Group& group, const Finding& f) {
  if (group.last == &f) return;
  group.last = &f;
  ++group.verdicts;
  const auto at = std::find_if(group.waiting.begin(), group.waiting.end(),
                               [&](const auto& w) { return w.first == f.rule; });
  if (at == group.waiting.end()) {
    group.waiting.emplace_back(f.rule, f.subject);
  } else {
    at->second += ", " + f.subject;
  }
}

/// A fact of one element is asked for once, whatever the reasons: in the words that tell most of what can be
/// written; of these in those that give a reason, then in those that most verdicts wait for.
class Questions {
 public:
  explicit Questions(const Report& report) {
    for (const Finding& f : report.findings) {
      if (f.kind != Finding::Kind::undetermined) continue;
      for (const Need& need : f.needs) ++asked_[of(need)][key_of(need)];
    }
  }

  [[nodiscard]] const Key& key(const Need& need) const {
    const std::map<Key, std::size_t>& ways = asked_.at(of(need));
    return std::max_element(ways.begin(), ways.end(),
                            [](const auto& a, const auto& b) {
                              const auto rank = [](const auto& way) {
                                const auto& [datum, why, expects, who] = way.first;
                                return std::tuple(expects.size(), !why.empty(), way.second);
                              };
                              return rank(a) < rank(b);
                            })
        ->first;
  }

 private:
  using Fact = std::tuple<std::string, std::string, std::uint32_t, std::uint32_t>;  // datum, element, where
  static Fact of(const Need& need) {
    return {need.datum.empty() ? need.fact : need.datum, need.element, need.place.line, need.place.column};
  }
  std::map<Fact, std::map<Key, std::size_t>> asked_;
};

Groups groups_of(const Report& report) {
  Groups groups;
  const Questions questions(report);
  for (const Finding& f : report.findings) {
    if (f.kind != Finding::Kind::undetermined) continue;
    for (const Need& need : f.needs) {
      Group& group = groups[questions.key(need)];
      group.needs.push_back(&need);
      add_waiting(group, f);
    }
  }
  for (auto& [key, group] : groups) {
    std::stable_sort(group.needs.begin(), group.needs.end(), [](const Need* a, const Need* b) {
      return std::tie(a->place.line, a->place.column, a->element) <
             std::tie(b->place.line, b->place.column, b->element);
    });
    group.needs.erase(std::unique(group.needs.begin(), group.needs.end(), same_element), group.needs.end());
    std::sort(group.waiting.begin(), group.waiting.end());
  }
  return groups;
}

std::string elements_of(const Group& group) {
  // Bends of one raceway are called alike: where they stand on one line, their columns tell them apart.
  const auto alike = [](const Need* a, const Need* b) {
    return a->element == b->element && a->place.line == b->place.line;
  };
  std::string out;
  for (std::size_t i = 0; i < group.needs.size(); ++i) {
    const Need* const need = group.needs[i];
    const bool column = (i > 0 && alike(group.needs[i - 1], need)) ||
                        (i + 1 < group.needs.size() && alike(need, group.needs[i + 1]));
    out += out.empty() ? "" : ", ";
    out += need->element;
    if (need->place.line == 0) continue;
    out += column ? fmt::format(" (line {}, column {})", need->place.line, need->place.column)
                  : fmt::format(" (line {})", need->place.line);
  }
  return out;
}

/// The fact as it would stand in the file: "<box depth="...">", "<support>"; its name where no document says
/// it.
std::string heading_of(const Need& need) {
  if (need.datum.empty()) return need.fact;
  const std::size_t mark = need.datum.find('@');
  if (mark == std::string::npos) return fmt::format("<{}>", need.datum);
  const std::string tag = need.datum.substr(0, mark), attribute = need.datum.substr(mark + 1);
  // Of what the ruleset declares, which of them it is.
  return tag == "fact" ? fmt::format("<fact name=\"{}\">", attribute)
                       : fmt::format("<{} {}=\"...\">", tag, attribute);
}

void write_group(Page& page, std::size_t number, const Key& key, const Group& group) {
  const auto& why = std::get<1>(key);
  const auto& expects = std::get<2>(key);
  const auto& who = std::get<3>(key);
  page.two_ends(
      fmt::format("{:>2}  {}", number, heading_of(*group.needs.front())),
      group.verdicts == 1 ? "1 verdict waits for it" : fmt::format("{} verdicts wait for it", group.verdicts),
      indent);
  page.entry(why.empty() ? "missing at" : "at", elements_of(group), indent, label_width);
  if (!why.empty()) page.entry("because", why, indent, label_width);
  if (!expects.empty()) page.entry("write", expects, indent, label_width);
  if (!who.empty()) page.entry("ask", who, indent, label_width);
  bool first = true;
  for (const auto& [rule, subjects] : group.waiting) {
    page.entry(first ? "waiting" : "", fmt::format("{}: {}", rule, subjects), indent, label_width);
    first = false;
  }
}

/// Verdicts that no missing fact explains: of rules that could not be asked, or that failed.
std::uint64_t unexplained(const Report& report) {
  std::uint64_t verdicts = 0, told = 0;
  for (const LedgerLine& line : report.ledger) verdicts += line.undetermined;
  for (const Finding& f : report.findings) told += f.kind == Finding::Kind::undetermined ? 1 : 0;
  return verdicts > told ? verdicts - told : 0;
}

void write_unexplained(Page& page, std::uint64_t verdicts) {
  page.paragraph(fmt::format("{} of a rule that could not be asked or that failed: see NOT CHECKED",
                             counted(verdicts, "verdict", "verdicts")),
                 indent, indent);
}

}  // namespace

void write_undetermined(Page& page, const Report& report) {
  const Groups groups = groups_of(report);
  const std::uint64_t others = unexplained(report);
  if (groups.empty() && others == 0) return;
  std::vector<const Groups::value_type*> order;
  for (const auto& group : groups) order.push_back(&group);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto* a, const auto* b) { return a->second.verdicts > b->second.verdicts; });
  page.heading("UNDETERMINED, by what is missing");
  if (!order.empty()) {
    const auto of_law = [](const auto* each) { return each->second.needs.front()->datum.empty(); };
    const auto laws = std::ranges::count_if(order, of_law);
    if (laws != std::ssize(order)) page.line("Write these facts into the document and check it again.");
    if (laws != 0) page.line("What the ruleset does not give, its author adds to a layer of it.");
    page.line();
  }
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (i > 0) page.line();
    write_group(page, i + 1, order[i]->first, order[i]->second);
  }
  if (others == 0) return;
  if (!order.empty()) page.line();
  write_unexplained(page, others);
}

}  // namespace raceward::report
