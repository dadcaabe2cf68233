// Which ruleset a document is judged under.
#pragma once

#include <map>
#include <memory>
#include <raceward/engine.hpp>
#include <string>

namespace raceward::command {

/// Problems on standard error, one a line: "file:line:column: message".
void tell(const std::vector<Problem>& problems);

/// Loads each ruleset once.
class Laws {
 public:
  /// A ruleset by id or path; null, and told on standard error, where there is none.
  const Law* named(const std::string& id_or_path);
  /// What the loading of one that was named remarked.
  const std::vector<Remark>& remarks(const std::string& id_or_path) { return remarks_[id_or_path]; }
  /// The ruleset that a document adopts.
  const Law* adopted(const Installation& installation, const std::string& file);

 private:
  std::map<std::string, std::shared_ptr<const Law>> laws_;
  std::map<std::string, std::vector<Remark>> remarks_;
};

/// "nec-2023, nec-2020"
std::string shipped_ids();

}  // namespace raceward::command
