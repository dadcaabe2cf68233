// What changes from one law to another, each change with what the first law becomes by it alone.
#pragma once

#include <functional>
#include <raceward/engine.hpp>
#include <string>
#include <vector>

namespace raceward::command {

struct Difference {
  std::string what;       ///< "parameter nipple-length", "row EMT, all, general of table raceway-support"
  std::string from, to;   ///< what each says; empty: nothing
  std::string authority;  ///< of the second: document, edition, section, basis, source
  std::string layer;      ///< that set it there
  std::vector<Amount> amounts;  ///< that changed, of both: where a document may stand between them
  /// Words of documents that decide whether it holds: of which attribute, and of which element, or of any.
  struct Words {
    std::string element, attribute;
    std::vector<std::string> words;
  };
  std::vector<Words> words{};
  bool cites_only = false;  ///< it says the same, and stands elsewhere
  std::function<Law()>
      first_with;  ///< the first law with this as in the second; none: it cannot be told alone
  std::function<Law()> second_without{};  ///< the second law with this as in the first; none: not told alone
  std::string name;                       ///< of the parameter or the table; empty of others
  /// The first law without this parameter or table, and with the whole of it as in the second. Whom neither
  /// makes a difference to, it makes none to what one row says.
  std::function<Law()> first_without, first_with_all;
  std::function<Law()> second_without_any{};  ///< the second law without this parameter or table
};

/// In order of parameters, rows of tables, rules, conditions; then, in the same order, what only stands
/// elsewhere.
std::vector<Difference> differences(const Law& from, const Law& to);

/// One for each document that is replaced by another and each section that is, in place of one for each value
/// that stands there.
void put_together(std::vector<Difference>& all);

/// A document that the two laws judge differently, and that the first with the change alone, or the second
/// without it, judges otherwise.
struct Witness {
  std::string file;
  std::string variation;  ///< what was written otherwise in it; empty: it is as it stands
  std::vector<std::string> only_from, only_to;  ///< findings of the one and not of the other
};

std::string cited_with_basis(const Citation& cite);
std::string text_of_differences(const Law& from, const Law& to, const std::vector<Difference>& all,
                                const std::vector<Witness>& witnesses, std::size_t documents);
std::string json_of_differences(const Law& from, const Law& to, const std::vector<Difference>& all,
                                const std::vector<Witness>& witnesses, std::size_t documents);

}  // namespace raceward::command
