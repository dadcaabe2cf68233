// The schema of the installation document, written from the vocabulary that the loader reads by.
#pragma once

#include <string>

namespace raceward::test {

/// The whole of libcheck/document/installation-1.xsd.
std::string schema_of_vocabulary();

}  // namespace raceward::test
