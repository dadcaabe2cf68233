// Loads documents that tests write as text.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <vector>

#include "installation/derived.hpp"
#include "raceward/engine.hpp"

namespace raceward::document::test {

/// "3:5: message" of each problem; exactly one of problems and installation is there.
inline std::vector<std::string> lines_of(const Loaded& loaded) {
  EXPECT_NE(loaded.installation == nullptr, loaded.problems.empty());
  std::vector<std::string> lines;
  for (const Problem& problem : loaded.problems) {
    const Place& place = problem.place;
    std::string line;
    if (place.line != 0) line = std::to_string(place.line) + ":" + std::to_string(place.column) + ": ";
    lines.push_back(line + problem.message);
  }
  return lines;
}

inline std::vector<std::string> problems_of(std::string_view xml) {
  return lines_of(load_bytes(xml, "a.xml"));
}

/// Elements in an installation: they begin in line 2.
inline std::string document_of(std::string_view elements) {
  return "<installation xmlns=\"urn:raceward:installation:1\" id=\"shed\">\n" + std::string(elements) +
         "</installation>\n";
}

/// Fails the test where the text does not load.
inline InstallationPtr load_good(std::string_view xml) {
  Loaded loaded = load_bytes(xml, "a.xml");
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  return std::move(loaded.installation);
}

}  // namespace raceward::document::test
