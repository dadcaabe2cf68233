// The schema and the page of the figures document, written from the form that data rules are checked by.
#pragma once

#include <string>

namespace raceward::test {

/// The whole of libcheck/facts/figures-1.xsd.
std::string schema_of_figures();
/// The whole of docs/figures-document.md.
std::string page_of_figures();

}  // namespace raceward::test
