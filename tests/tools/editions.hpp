// What the editions of one code say differently, from their layers, and the fixtures that show it.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/engine.hpp"

namespace raceward::pages {

/// Laws of one family: the newest edition and those that stand upon it, oldest first.
using Editions = std::vector<std::shared_ptr<const Law>>;

/// A parameter, rows of a table that are alike, or a rule, where two editions or more differ in it.
struct Difference {
  std::string what;                 ///< "parameter nipple-length", "table egc-raceway: FMC, 2"
  std::string name;                 ///< of the parameter, table or rule
  std::vector<std::string> values;  ///< an edition each; empty for rules
  std::vector<std::string> stands;  ///< an edition each: "250.118(5) (read)"
  std::vector<std::string> remarks;
  std::vector<std::string> sections;  ///< an edition each, for a search
  /// The first law with what the second one says of this.
  std::function<Law(const Law&, const Law&)> taken_from;

  [[nodiscard]] bool of_value() const;
};

std::vector<Difference> differences_of(const Editions& editions);

/// The page docs/editions.md. `is_read` says whether any rule reads a parameter or table of that name.
/// `unshown` gets what no fixture of the folder shows, though a rule reads it.
std::string page_of_editions(const Editions& editions, const std::filesystem::path& fixtures,
                             const std::function<bool(std::string_view)>& is_read,
                             std::vector<std::string>& unshown);

}  // namespace raceward::pages
