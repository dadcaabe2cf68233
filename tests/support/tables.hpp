// The page of tables of the installation document, written from the vocabulary that the loader reads by.
#pragma once

#include <string>

namespace raceward::test {

/// The whole of docs/document-tables.md.
std::string tables_of_vocabulary();

}  // namespace raceward::test
