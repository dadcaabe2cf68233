// The walk over an element's children, shared by the files that build the model.
#pragma once

#include "document/builder.hpp"

namespace raceward::document {

template <class Where, class Each>
void Builder::each_child_where(pugi::xml_node parent, Element element, const Where& where, const Each& each) {
  for (pugi::xml_node child = parent.first_child(); child; child = child.next_sibling()) {
    if (child.type() != pugi::node_element) continue;  // text was reported by the strict pass
    const Element found = reader_.element_of(child);
    if (!where(found)) continue;
    ++model_.element_count;
    if (found == Element::unknown || !may_stand_in(row_of(found), element)) {
      misplaced(child, found, element);
      continue;
    }
    reader_.attributes(child, found, fields_);
    each(child, found);
  }
}

template <class Each>
void Builder::each_child(pugi::xml_node parent, Element element, const Each& each) {
  each_child_where(
      parent, element, [](Element) { return true; }, each);
}

}  // namespace raceward::document
