// A layer of somebody's own over nec-2023, with one table beside it, loaded from disk as the command does.
#pragma once

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "files.hpp"

namespace raceward::ruleset::test {

using Texts = std::vector<std::string>;

struct OwnLayer {
  LoadedLaw loaded;
  Texts problems, remarks;  ///< "layer.xml:3:12: message"
};

/// `elements` begin in line 4; " @/>" in them stands for a citation that nobody else has.
inline OwnLayer own_layer(std::string elements, const std::string& table = {},
                          const std::string& attributes = {}) {
  namespace fs = std::filesystem;
  for (std::size_t at = elements.find(" @/>"); at != std::string::npos; at = elements.find(" @/>", at))
    elements.replace(at, 2, R"( section="1" basis="read" source="S1")");
  const fs::path folder = fs::path(testing::TempDir()) / "raceward-own-layer";
  fs::create_directories(folder);
  std::ofstream(folder / "layer.xml", std::ios::binary)
      << R"(<ruleset xmlns="urn:raceward:ruleset:1" id="marrow" title="Marrow" base="nec-2023")" << attributes
      << ">\n<document id=\"marrow\" title=\"Marrow\"/>\n<source id=\"S1\" title=\"Gazette\"/>\n"
      << elements << "\n</ruleset>";
  std::ofstream(folder / "t.csv", std::ios::binary) << table;
  OwnLayer out;
  out.loaded = load_ruleset((folder / "layer.xml").string());
  const std::size_t before = folder.string().size() + 1;
  for (const Problem& p : out.loaded.problems) out.problems.push_back(text_of(p).substr(before));
  for (const Remark& r : out.loaded.remarks)
    out.remarks.push_back(text_of(Problem{r.place, r.message}).substr(before));
  fs::remove_all(folder);
  return out;
}

/// A layer that changes this table by the rows, under these columns.
inline OwnLayer own_rows(const std::string& table, const std::string& columns, const std::string& rows) {
  return own_layer("<table name=\"" + table + "\" file=\"t.csv\"/>",
                   "# table: " + table + "\n# cites: marrow, 1\n# basis: read\n# source: S1\n" + columns +
                       "\n" + rows + "\n");
}

}  // namespace raceward::ruleset::test
