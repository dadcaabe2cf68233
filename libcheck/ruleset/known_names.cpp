// Does a layer of somebody's own set what figures read, under the names and in the units that they read?
//
// What they read is not listed anywhere: the shipped law sets it all, so it is the measure.
#include "ruleset/ruleset.hpp"
#include "ruleset/text_file.hpp"
#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

/// A name this close to a known one that the layer lacks is that one misspelt.
constexpr std::size_t slips = 2;

/// What stands in `own` under a name that `known` lacks, and is near to one that `own` lacks.
template <class Items, class Name, class Tell>
void misspelt(const Items& own, const Items& known, Name name_of_item, Tell tell) {
  const auto has = [&](const Items& items, std::string_view name) {
    for (const auto& item : items) {
      if (name_of_item(item) == name) return true;
    }
    return false;
  };
  std::vector<std::string_view> lacking;
  for (const auto& item : known) {
    if (!has(own, name_of_item(item))) lacking.push_back(name_of_item(item));
  }
  for (const auto& item : own) {
    if (has(known, name_of_item(item))) continue;
    const std::string meant = suggestion(name_of_item(item), lacking, slips);
    if (!meant.empty()) tell(item, meant);
  }
}

bool percent(const Amount& amount) { return amount.unit == Unit::percent; }

void parameter(const Parameter& own, const Parameter& known, Problems& problems) {
  const std::string what = "parameter " + quoted(own.name);
  if (own.is_word != known.is_word) {
    problems.add(
        own.place,
        what + (known.is_word ? " is read as a word; write text=" : " is read as a number; write value=") +
            quoted(known.text) + " or the like");
  } else if (!own.is_word && (dimension_of(own.value.unit) != dimension_of(known.value.unit) ||
                              percent(own.value) != percent(known.value))) {
    problems.add(own.place,
                 what + " cannot be " + quoted(own.text) + "; write a value such as " + quoted(known.text));
  }
}

void table(const Table& own, const Table& known, Problems& problems) {
  std::string keys;
  bool in_order = true, all_spelt = true;
  for (std::size_t i = 0; i < known.columns.size() && known.columns[i].kind == Column::Kind::key; ++i) {
    keys += (keys.empty() ? "" : ", ") + known.columns[i].name;
    in_order = in_order && i < own.columns.size() && own.columns[i].name == known.columns[i].name;
  }
  misspelt(
      own.columns, known.columns, [](const Column& c) -> std::string_view { return c.name; },
      [&](const Column& column, const std::string& meant) {
        in_order = in_order || column.kind == Column::Kind::key;  // said here
        all_spelt = false;
        problems.add(own.place, "column " + quoted(column.name) + " is read by nothing" + meant);
      });
  if (in_order && all_spelt) {  // else what is said already explains it
    for (const Column& column : known.columns) {
      if (column.kind == Column::Kind::key || column.name == "words" ||
          own.column(column.name) != Table::none)
        continue;
      problems.add(own.place,
                   "it has no column " + quoted(column.name) + ", which is read; a cell of it may be empty");
    }
  }
  for (const Column& column : own.columns) {
    const std::uint32_t at = known.column(column.name);
    if (at == Table::none || alike(column, known.columns[at])) continue;
    in_order = true;  // said here
    problems.add(own.place, "column " + quoted(column.name) + " cannot hold " + kind_of(column) +
                                "; it is read as " + kind_of(known.columns[at]));
  }
  if (!in_order) problems.add(own.place, "the key columns are read in this order: " + keys);
}

}  // namespace

std::vector<Problem> known_names(const Law& own, const Law& known) {
  Problems problems;
  misspelt(
      own.parameters, known.parameters, [](const Parameter& p) -> std::string_view { return p.name; },
      [&](const Parameter& p, const std::string& meant) {
        problems.add(p.place, "parameter " + quoted(p.name) + " is read by nothing" + meant);
      });
  misspelt(
      own.tables, known.tables, [](const Table& t) -> std::string_view { return t.name; },
      [&](const Table& t, const std::string& meant) {
        problems.add(t.place, "table " + quoted(t.name) + " is read by nothing" + meant);
      });
  for (const Parameter& p : own.parameters) {
    if (const Parameter* same = known.parameter(p.name)) parameter(p, *same, problems);
  }
  for (const Table& t : own.tables) {
    if (const Table* same = known.table(t.name)) table(t, *same, problems);
  }
  return std::move(problems).sorted();
}

}  // namespace raceward::ruleset
