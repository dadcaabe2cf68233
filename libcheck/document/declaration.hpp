// The first bytes of a file: its encoding and its XML declaration.
#pragma once

#include <string>
#include <string_view>

namespace raceward::document {

/// Why the bytes cannot be read at all: nothing in them, or an encoding that is not UTF-8. Empty where they
/// can.
std::string fault_of_encoding(std::string_view bytes);

/// True for "xml", in small or capital letters.
bool is_xml(std::string_view target);

/// What is wrong with a declaration, given without its "?>". Empty where nothing is.
std::string fault_of_declaration(std::string_view declaration);

}  // namespace raceward::document
