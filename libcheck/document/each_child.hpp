// The walk over an element's children, shared by the files that build the model.
#pragma once

#include "document/builder.hpp"

namespace raceward::document {

template <class Where, class Each>
void Builder::each_child_where(const WrittenElement& parent, Element element, const Where& where,
                               const Each& each) {
  const WrittenElement* const end = &parent + parent.span;
  for (const WrittenElement* child = &parent + 1; child != end; child += child->span) {
    const Element found = reader_.element_of(*child);
    if (where(found)) one_child(*child, found, element, each);
  }
}

template <class Each>
void Builder::one_child(const WrittenElement& child, Element found, Element parent, const Each& each) {
  ++model_.element_count;
  if (found == Element::unknown || !may_stand_in(row_of(found), parent)) {
    misplaced(child, found, parent);
    return;
  }
  reader_.attributes(child, found, fields_);
  each(child, found);
}

template <class Each>
void Builder::each_child(const WrittenElement& parent, Element element, const Each& each) {
  each_child_where(
      parent, element, [](Element) { return true; }, each);
}

}  // namespace raceward::document
