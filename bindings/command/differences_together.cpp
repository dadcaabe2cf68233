// Many values that only stand elsewhere, told as the one thing that makes them do so.
#include <spdlog/fmt/fmt.h>

#include <map>

#include "differences.hpp"

namespace raceward::command {

namespace {

using std::string;

/// What two texts end in alike, and begin in otherwise: the documents of "NFPA 70 250.118" and "City Code
/// 250.118".
bool documents_of(const Difference& d, string& from, string& to) {
  std::size_t same = 0;
  while (same < d.from.size() && same < d.to.size() &&
         d.from[d.from.size() - 1 - same] == d.to[d.to.size() - 1 - same])
    ++same;
  // Whole words: from a blank on.
  const std::size_t blank = d.from.find(' ', d.from.size() - same);
  if (blank == string::npos) return false;
  from = d.from.substr(0, blank);
  to = d.to.substr(0, d.to.size() - (d.from.size() - blank));
  return !from.empty() && !to.empty() && d.from.find(", ") == string::npos;
}

struct Group {
  std::size_t first = 0;
  std::size_t members = 0;
};

}  // namespace

void put_together(std::vector<Difference>& all) {
  std::map<std::pair<string, string>, Group> documents, places;
  std::vector<Difference> out;
  for (Difference& d : all) {
    if (!d.cites_only) {
      out.push_back(std::move(d));
      continue;
    }
    string from, to;
    const bool replaced = documents_of(d, from, to);
    if (!replaced) from = d.from, to = d.to;
    Group& group = (replaced ? documents : places)[{from, to}];
    if (group.members++ == 0) {
      group.first = out.size();
      if (replaced) d.from = from, d.to = to;
      out.push_back(std::move(d));
      continue;
    }
    Difference& first = out[group.first];
    first.name.clear();  // it is of several
    first.first_without = first.first_with_all = first.second_without_any = {};
    first.what = replaced
                     ? fmt::format("where {} values and rules stand that stood in {}", group.members, from)
                     : fmt::format("where {} values and rules stand that stood at {}", group.members, from);
  }
  all = std::move(out);
}

}  // namespace raceward::command
