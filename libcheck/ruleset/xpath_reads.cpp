// What expressions read, put together.
#include <algorithm>

#include "ruleset/xpath.hpp"

namespace raceward::ruleset {

namespace {

/// Each once; needed where one of them is.
template <class Item, class What>
void merge(std::vector<Item>& own, const std::vector<Item>& more, What Item::*what) {
  for (const Item& item : more) {
    const auto same =
        std::find_if(own.begin(), own.end(), [&](const Item& i) { return i.*what == item.*what; });
    if (same == own.end())
      own.push_back(item);
    else
      same->needed = same->needed || item.needed;
  }
}

}  // namespace

void Reads::add(const Reads& more) {
  merge(facts, more.facts, &Fact::row);
  merge(figures, more.figures, &Figure::info);
  merge(stated, more.stated, &Stated::fact);
  for (const Part& part : more.parts) {
    const auto same =
        std::find_if(parts.begin(), parts.end(), [&](const Part& p) { return p.row == part.row; });
    if (same == parts.end()) {
      parts.push_back(part);
    } else {
      same->needed = same->needed || part.needed;
      same->some_fact = same->some_fact || part.some_fact;
      same->of.add(part.of);
    }
  }
}

facts::Wanted Reads::wanted() const {
  facts::Wanted out;
  for (const Fact& fact : facts) out.facts.push_back(fact.row);
  for (const Figure& figure : figures) out.figures.push_back(figure.info);
  for (const Stated& each : stated) out.stated.push_back(each.fact);
  for (const Part& part : parts) out.parts.push_back({part.row, part.of.wanted()});
  return out;
}

}  // namespace raceward::ruleset
