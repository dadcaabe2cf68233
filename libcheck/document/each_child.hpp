// The walk over an element's children, shared by the files that build the model.
#pragma once

#include "document/builder.hpp"

namespace raceward::document {

template <class Where, class Each>
void Builder::each_child_where(const WrittenElement& parent, Element element, const Where& where,
                               const Each& each) {
  const WrittenElement* const end = &parent + parent.span;
  for (const WrittenElement* child = &parent + 1; child != end; child += child->span) {
    if (where(child->element)) one_child(*child, element, each);
  }
}

template <class Each>
void Builder::one_child(const WrittenElement& child, Element parent, const Each& each) {
  const Element found = child.element;
  ++model_.element_count;
  if (found == Element::unknown || !may_stand_in(row_of(found), parent)) {
    misplaced(child, parent);
    return;
  }
  reader_.attributes(child, fields_);
  each(child, found);
}

template <class Each>
void Builder::each_child(const WrittenElement& parent, Element element, const Each& each) {
  each_child_where(
      parent, element, [](Element) { return true; }, each);
}

}  // namespace raceward::document
