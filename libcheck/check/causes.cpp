#include "check/causes.hpp"

#include <algorithm>
#include <map>
#include <span>
#include <tuple>
#include <utility>
#include <vector>

#include "check/needs.hpp"

namespace raceward::checking {

namespace {

bool at_one_place(const Finding& a, const Finding& b) {
  return std::tie(a.place.line, a.place.column, a.rule) == std::tie(b.place.line, b.place.column, b.rule);
}

/// All that a finding says, but of whom.
std::string said_by(const Finding& f) {
  std::string out = f.message;
  if (const std::size_t at = out.find(f.where); at != std::string::npos) out.erase(at, f.where.size());
  for (const std::string* more : {&f.measured_shown, &f.limit_shown, &f.cure}) out.append("\n").append(*more);
  for (const std::string& step : f.working) out.append("\n").append(step);
  for (const Citation& cite : f.cites)
    out.append("\n").append(cite.document).append(cite.edition).append(cite.section);
  return out;
}

/// Of findings of one rule at one place: those that say the same. A few may say it of what stands there
/// itself.
void mark(const Installation& in, std::span<Finding> findings, std::uint32_t& causes) {
  const auto own = [&](const Finding& f) {
    return place_of(in.model, installation::offset_of(in.model, in.sections, f.at));
  };
  std::map<std::pair<Finding::Kind, std::string>, std::vector<Finding*>> alike;
  for (Finding& f : findings) {
    if (f.kind != Finding::Kind::undetermined) alike[{f.kind, said_by(f)}].push_back(&f);
  }
  std::vector<const std::vector<Finding*>*> groups;
  for (const auto& [said, group] : alike) groups.push_back(&group);
  std::ranges::sort(groups, {}, [](const auto* group) { return group->front(); });
  for (const auto* group : groups) {
    if (group->size() == 1) continue;
    for (Finding* f : *group) f->subject_place = own(*f);
    const bool elsewhere = std::ranges::any_of(*group, [](const Finding* f) {
      return std::tie(f->subject_place.line, f->subject_place.column) !=
             std::tie(f->place.line, f->place.column);
    });
    if (elsewhere) ++causes;
    for (Finding* f : *group) {
      if (elsewhere)
        f->cause = causes;
      else
        f->subject_place = {};
    }
  }
}

}  // namespace

void mark_causes(const Installation& installation, Report& report) {
  std::uint32_t causes = 0;
  const auto end = report.findings.end();
  for (auto first = report.findings.begin(); first != end;) {
    const auto next = std::find_if(first, end, [&](const Finding& f) { return !at_one_place(f, *first); });
    if (next - first > 1 && first->place.line != 0) mark(installation, {first, next}, causes);
    first = next;
  }
}

}  // namespace raceward::checking
