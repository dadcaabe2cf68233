// Renews what is written from the vocabulary of the installation document and the list of figures.
//
//   write_vocabulary SCHEMA TABLES FIGURES-SCHEMA FIGURES-PAGE
#include <fstream>
#include <iostream>
#include <string>

#include "support/figures_form.hpp"
#include "support/schema.hpp"
#include "support/tables.hpp"

int main(int argc, char** argv) {
  if (argc != 5) {
    std::cerr << "usage: write_vocabulary SCHEMA TABLES FIGURES-SCHEMA FIGURES-PAGE\n";
    return 1;
  }
  const std::string texts[] = {raceward::test::schema_of_vocabulary(), raceward::test::tables_of_vocabulary(),
                               raceward::test::schema_of_figures(), raceward::test::page_of_figures()};
  for (int i = 1; i < argc; ++i) {
    std::ofstream file(argv[i], std::ios::binary);
    file << texts[i - 1];
    if (!file.flush()) return 1;
  }
  return 0;
}
