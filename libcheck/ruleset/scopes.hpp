// What layers set under conditions, beside what they set without.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/law.hpp"
#include "ruleset/text_file.hpp"

namespace raceward::ruleset {

/// They are bits of a number; one is left for the dates of the ruleset.
inline constexpr std::size_t most_scopes = 62;
std::string too_many_scopes();

/// Stands for the layer while the changes of a condition are told from what holds without it.
inline constexpr LayerId conditional = no_citation;

/// The rows that were set as those `of` somebody, as rows of `layer`, and those that he removed.
Table rows_of(const Table& amended, LayerId of, LayerId layer);

bool same_columns(const Table& a, const Table& b);

/// Names that a layer sets, and where.
using Set = std::map<std::string_view, std::size_t>;

/// What a layer sets without a condition holds whatever the layers below it say under conditions. `tables`:
/// as they are with the layer.
void overrule(std::vector<Scope>& scopes, const Set& names, const Set& rules,
              const std::map<std::string, Table, std::less<>>& tables, LayerId layer);

/// Two conditions of one layer, from scope `from` on, that can hold at once and say different things of one
/// name.
void contradictions(const std::vector<Scope>& scopes, std::size_t from, Problems& problems);

}  // namespace raceward::ruleset
