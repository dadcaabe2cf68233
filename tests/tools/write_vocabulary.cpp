// Renews what is written from the vocabulary of the installation document.
//
//   write_vocabulary SCHEMA TABLES
#include <fstream>
#include <iostream>

#include "support/schema.hpp"
#include "support/tables.hpp"

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: write_vocabulary SCHEMA TABLES\n";
    return 1;
  }
  std::ofstream schema(argv[1], std::ios::binary), tables(argv[2], std::ios::binary);
  schema << raceward::test::schema_of_vocabulary();
  tables << raceward::test::tables_of_vocabulary();
  return schema.flush() && tables.flush() ? 0 : 1;
}
