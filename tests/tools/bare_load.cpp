// The least that a program can do with a document: load the file with pugixml as it comes. What a whole check
// as a process of its own is compared with: bare_load FILE
#include <iostream>
#include <pugixml.hpp>

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: bare_load FILE\n";
    return 4;
  }
  pugi::xml_document document;
  const pugi::xml_parse_result result = document.load_file(argv[1]);
  if (!result) std::cerr << argv[1] << ": " << result.description() << '\n';
  return result ? 0 : 3;
}
