// Documents that a test changes element by element.
#pragma once

#include <map>
#include <memory>
#include <pugixml.hpp>
#include <sstream>
#include <string>

#include "raceward/engine.hpp"

namespace raceward::test {

/// The ruleset that a document adopts, for checks of many changes of it.
inline const ReadyLaw& ready_law_of(const Installation& in) {
  static std::map<std::string, std::shared_ptr<const ReadyLaw>> laws;
  std::shared_ptr<const ReadyLaw>& adopted = laws[std::string(adopted_ruleset(in))];
  if (adopted) return *adopted;
  LoadedLaw loaded = load_shipped_ruleset(adopted_ruleset(in));
  if (!loaded.law) loaded = load_shipped_ruleset("nec-2023");
  adopted = make_ready(loaded.law);
  return *adopted;
}

inline std::string text(const pugi::xml_document& document) {
  std::ostringstream out;
  document.save(out, "", pugi::format_raw);
  return out.str();
}

/// Visits all elements within a node, in document order.
void each_element(pugi::xml_node node, auto&& visit) {
  for (pugi::xml_node child : node.children()) {
    if (child.type() != pugi::node_element) continue;
    visit(child);
    each_element(child, visit);
  }
}

}  // namespace raceward::test
