// Writes down what a suite found, as what is expected from now on.
#pragma once

#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// What a file of expectations is to become.
struct Recording {
  std::string file;                         ///< NAME.expect beside the document
  std::string text;                         ///< all of it, with what is new
  std::vector<std::string> added, removed;  ///< sentences
};

struct Recordings {
  std::vector<Recording> files;  ///< that change, sorted
  std::vector<Problem> left;     ///< what is expected otherwise and was not changed, and why
};

/// From the documents and what their run found. Expectations that do not hold are replaced only where
/// `overwrite` says so, and only in files beside documents: what a document says itself is its author's. What
/// was found and is not expected is added. Documents that could not be judged stay as they are.
Recordings record(const std::vector<Document>& documents, const Result& result, bool overwrite);

/// "+" and "-" lines of each file.
std::string text_of(const Recordings& recordings);

}  // namespace raceward::suite
