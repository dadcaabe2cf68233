// The walk over an element's children, shared by the files that build the model.
#pragma once

#include "document/builder.hpp"

namespace raceward::document {

template <class Each>
void Builder::each_child(pugi::xml_node parent, Element element, const Each& each) {
  for (pugi::xml_node child = parent.first_child(); child; child = child.next_sibling()) {
    if (child.type() != pugi::node_element) continue;  // text was reported by the strict pass
    ++model_.element_count;
    const Element found = reader_.element_of(child);
    if (found == Element::unknown || !may_stand_in(row_of(found), element)) {
      misplaced(child, found, element);
      continue;
    }
    reader_.attributes(child, found, fields_);
    each(child, found);
  }
}

}  // namespace raceward::document
