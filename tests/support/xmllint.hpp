// Documents judged by a validator that is none of ours.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace raceward::test {

enum class Judged : char {
  valid,
  against_schema,
  no_xml,  ///< not well-formed
};

/// What xmllint says of each file under a schema. Fails the test where xmllint is not there or the schema is
/// faulty.
std::vector<Judged> xmllint(const std::filesystem::path& schema,
                            const std::vector<std::filesystem::path>& files);
/// The same for texts, by way of files that are removed again.
std::vector<Judged> xmllint_texts(const std::filesystem::path& schema, const std::vector<std::string>& texts);

}  // namespace raceward::test
