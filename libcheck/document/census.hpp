// About how many elements of each name a file has, so that room can be made for them beforehand.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "document/vocabulary.hpp"

namespace raceward::document {

/// Per Element.
using Census = std::array<std::size_t, element_count>;

/// Exact for small files that are good; of large ones some parts are looked at. A guess is all that it is:
/// nothing is checked. REQUIRES: word_padding readable bytes behind them.
Census count_elements(std::string_view bytes);

}  // namespace raceward::document
